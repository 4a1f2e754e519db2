/** Worker threads, each with one task at a time. A worker that dies or hangs is replaced; only its task is lost. */
import { Worker } from "node:worker_threads";
import { inPackage } from "../base/root.js";
import type { DocumentToProof, JobSettings, MadeVisit, VisitToRead } from "./job.js";
import { type Reason, reason } from "./outcome.js";

export type Task =
  | { readonly kind: "make"; readonly visit: VisitToRead }
  | { readonly kind: "proof"; readonly visit: VisitToRead; readonly documents: readonly DocumentToProof[] };

export type Answer =
  | { readonly kind: "make"; readonly made: MadeVisit }
  | { readonly kind: "proof"; readonly faults: Reason[][] }
  | { readonly kind: "fault"; readonly name: string; readonly place: string };

/** What became of a task: an answer, or why there is none. */
export type Outcome = Exclude<Answer, { kind: "fault" }> | { readonly kind: "lost"; readonly reason: Reason };

export interface PoolOptions {
  readonly workers: number;
  readonly settings: JobSettings;
  /** Longest time one task may take. */
  readonly limitMs?: number;
}

const LIMIT_MS = 120_000;
/** Per worker; a visit needs a tenth of it. */
const HEAP_MB = 1024;
const YOUNG_MB = 64;

/**
 * Does the tasks in order of asking, as many at once as there are workers, and gives each outcome to `done`, which is awaited
 * before that worker goes on: so no more results wait in memory than there are workers. Stops early when `stop` is aborted;
 * tasks under way are finished. Throws what `done` throws, after all workers have ended.
 */
export async function runPool<T>(
  tasks: Iterable<T>,
  toTask: (item: T) => Task,
  done: (item: T, outcome: Outcome) => Promise<void> | void,
  options: PoolOptions,
  stop?: AbortSignal,
): Promise<void> {
  const queue = tasks[Symbol.iterator]();
  let failure: unknown;
  const serve = async () => {
    let worker: Hand | undefined;
    try {
      while (!stop?.aborted && failure === undefined) {
        const next = queue.next();
        if (next.done) break;
        if (!worker || worker.isDead) worker = new Hand(options);
        const outcome = await worker.do(toTask(next.value));
        await done(next.value, outcome);
      }
    } catch (error) {
      failure ??= error;
    } finally {
      await worker?.end();
    }
  };
  await Promise.all(Array.from({ length: Math.max(1, options.workers) }, serve));
  if (failure !== undefined) throw failure;
}

/** One worker thread. */
class Hand {
  isDead = false;
  private readonly thread: Worker;
  private settle: ((outcome: Outcome, isDead: boolean) => void) | undefined;

  constructor(private readonly options: PoolOptions) {
    this.thread = new Worker(inPackage("dist", "batch", "worker.js"), {
      workerData: options.settings,
      // More room for the short-lived saves collecting it over and over.
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB, maxYoungGenerationSizeMb: YOUNG_MB },
    });
    this.thread.on("message", (answer: Answer) => this.take(answer));
    this.thread.on("error", (error) => this.lose(workerFailed(codeOf(error), "")));
    this.thread.on("exit", () => this.lose(workerFailed("exit", "")));
  }

  do(task: Task): Promise<Outcome> {
    return new Promise((resolve) => {
      this.settle = (outcome, isDead) => {
        clearTimeout(timer);
        this.settle = undefined;
        this.isDead = isDead;
        if (isDead) void this.thread.terminate();
        resolve(outcome);
      };
      const limit = this.options.limitMs ?? LIMIT_MS;
      const timer = setTimeout(() => this.lose(reason("took-too-long", `${limit / 1000} s`)), limit);
      this.thread.postMessage(task);
    });
  }

  private take(answer: Answer): void {
    this.settle?.(
      answer.kind === "fault" ? { kind: "lost", reason: workerFailed(answer.name, answer.place) } : answer,
      false,
    );
  }

  private lose(why: Reason): void {
    this.isDead = true;
    this.settle?.({ kind: "lost", reason: why }, true);
  }

  async end(): Promise<void> {
    await this.thread.terminate();
  }
}

function workerFailed(name: string, place: string): Reason {
  return reason("worker-failed", [name, place].filter(Boolean).join(" at "));
}

/** `ERR_WORKER_OUT_OF_MEMORY`, or the kind of error. */
function codeOf(error: unknown): string {
  if (!(error instanceof Error)) return typeof error;
  return "code" in error ? String(error.code) : error.name;
}
