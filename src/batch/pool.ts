/** Worker threads, each at one task at a time. A worker that dies or hangs is replaced; only the task it was at is lost. */
import { Worker } from "node:worker_threads";
import { inPackage } from "../base/root.js";
import { spareHandles } from "../files/handles.js";
import type { DocumentToProof, JobSettings, MadeFrom, VisitToRead } from "./job.js";
import { type Reason, reason } from "./outcome.js";

export type Task =
  | { readonly kind: "make"; readonly visit: VisitToRead }
  | { readonly kind: "proof"; readonly visit: VisitToRead; readonly documents: readonly DocumentToProof[] };

export type Answer =
  | { readonly kind: "make"; readonly made: MadeFrom }
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
/** Per worker, which holds some 90 between visits. The less there is, the sooner what is no longer used is cleared away. */
const HEAP_MB = 256;
const YOUNG_MB = 12;
/** Tasks a worker holds: the one it is at, and the next, so that it need not wait while an outcome is written. */
const HELD = 2;
/** Files that a worker opens at once while it starts. */
const HANDLES = 32;

/** No worker at all can start; the command line says so for the whole run. */
class TooFewHandles extends Error {
  readonly code = "EMFILE";
}

/** As many workers as were asked for, or as the session's open files allow. */
function employable(wanted: number): number {
  const able = Math.floor(spareHandles(wanted * HANDLES) / HANDLES);
  if (able === 0) throw new TooFewHandles();
  return Math.min(wanted, able);
}

/**
 * Does the tasks in order of asking, as many at once as there are workers, and gives each outcome to `done`, which is awaited
 * before that worker is handed another task: so no more than two results for each worker are in memory. Stops early when
 * `stop` is aborted; tasks handed out are finished. Throws what `done` throws, after all workers have ended. Fewer workers than
 * asked for where few files may be open; an error with the code EMFILE where not even one could start.
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
  const serve = async (hand: Hand) => {
    try {
      while (!stop?.aborted && failure === undefined) {
        const next = queue.next();
        if (next.done) break;
        const outcome = await hand.do(toTask(next.value));
        await done(next.value, outcome);
      }
    } catch (error) {
      failure ??= error;
    }
  };
  const employ = async () => {
    const hand = new Hand(options);
    await Promise.all(Array.from({ length: HELD }, () => serve(hand)));
    await hand.end();
  };
  await Promise.all(Array.from({ length: employable(Math.max(1, options.workers)) }, employ));
  if (failure !== undefined) throw failure;
}

interface Held {
  readonly task: Task;
  readonly settle: (outcome: Outcome) => void;
}

/** One worker thread and the tasks it holds, the one it is at first. */
class Hand {
  private readonly held: Held[] = [];
  private thread: Worker | undefined;
  private timer: NodeJS.Timeout | undefined;

  constructor(private readonly options: PoolOptions) {}

  do(task: Task): Promise<Outcome> {
    return new Promise((settle) => {
      this.held.push({ task, settle });
      this.thread ??= this.start();
      this.thread.postMessage(task);
      if (this.held.length === 1) this.watch();
    });
  }

  async end(): Promise<void> {
    await this.thread?.terminate();
  }

  private start(): Worker {
    const thread = new Worker(inPackage("dist", "command", "worker.js"), {
      workerData: this.options.settings,
      // Ten times the room for the short-lived takes two hundred megabytes more and saves a twentieth of the time.
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB, maxYoungGenerationSizeMb: YOUNG_MB },
    });
    thread.on("message", (answer: Answer) => {
      if (thread !== this.thread) return;
      this.settleFirst(
        answer.kind === "fault" ? { kind: "lost", reason: workerFailed(answer.name, answer.place) } : answer,
      );
    });
    thread.on("error", (error) => this.lose(thread, workerFailed(codeOf(error), "")));
    thread.on("exit", () => this.lose(thread, workerFailed("exit", "")));
    return thread;
  }

  /** Gives the first task its time, from now on. */
  private watch(): void {
    clearTimeout(this.timer);
    const { thread } = this;
    if (!thread || this.held.length === 0) return;
    const limit = this.options.limitMs ?? LIMIT_MS;
    const tooLong = () => this.lose(thread, reason("took-too-long", `${limit / 1000} s`));
    this.timer = setTimeout(tooLong, limit);
  }

  private settleFirst(outcome: Outcome): void {
    const first = this.held.shift();
    this.watch();
    first?.settle(outcome);
  }

  /** The first task is lost with its thread; those that waited behind it go to another. */
  private lose(thread: Worker, why: Reason): void {
    if (thread !== this.thread) return;
    void thread.terminate();
    const [, ...waiting] = this.held;
    this.thread = waiting.length > 0 ? this.start() : undefined;
    for (const { task } of waiting) this.thread?.postMessage(task);
    this.settleFirst({ kind: "lost", reason: why });
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
