/** Runs `batch` as a user does and measures it: the whole run, its steady part, its memory. */
import { existsSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { type CommandRun, runCommand } from "./run-command.js";

export interface BatchSetting {
  readonly source: string;
  readonly visits: number;
  readonly workers: number;
  readonly proof: boolean;
}

export interface BatchRun extends BatchSetting {
  readonly documents: number;
  /** Documents a second from start to end. */
  readonly whole: number;
  /** Processor time of a document, from start to end. */
  readonly wholeCpuMs: number;
  /** Documents a second from the moment a quarter of the visits was done to the end of the process. */
  readonly steady: number;
  /** Processor time of a document in that steady part. */
  readonly cpuMs: number | undefined;
  readonly peakMb: CommandRun["peakMb"];
}

interface Done {
  readonly visits: number;
  readonly documents: number;
}

/** What the run's journal says is finished. */
function done(out: string): Done {
  const file = join(out, ".whorl", "journal.jsonl");
  if (!existsSync(file)) return { visits: 0, documents: 0 };
  const lines = readFileSync(file, "utf8").split("\n").slice(0, -1);
  const finished = lines.flatMap((line): number[] => {
    const { documents } = JSON.parse(line) as { documents?: readonly unknown[] };
    return documents ? [documents.length] : [];
  });
  return { visits: finished.length, documents: finished.reduce((sum, n) => sum + n, 0) };
}

/**
 * Counting from a quarter on leaves out what a run pays once (starting, loading, first use of everything) and keeps all that
 * each document costs, the closing of the folder included; the difference of two whole runs would add the noise of both.
 */
export async function measureBatch(setting: BatchSetting, out: string): Promise<BatchRun> {
  const { source, visits, workers, proof } = setting;
  let quarter: { seconds: number; documents: number; cpuSeconds: number | undefined } | undefined;
  const start = performance.now();
  const look = (cpuSeconds: number | undefined) => {
    if (quarter) return;
    const { visits: finished, documents } = done(out);
    const seconds = (performance.now() - start) / 1000;
    if (finished >= visits / 4) quarter = { seconds, documents, cpuSeconds };
  };
  const run = await runCommand(
    ["batch", source, "--out", out, "--jobs", String(workers), ...(proof ? [] : ["--no-proof"])],
    look,
  );
  const { documents } = done(out);
  rmSync(out, { recursive: true });
  if (!quarter) throw new Error("the run ended before it could be watched; ask for more visits");
  const rest = documents - quarter.documents;
  const { cpuSeconds: before } = quarter;
  return {
    ...setting,
    documents,
    whole: documents / run.seconds,
    wholeCpuMs: (run.cpuSeconds * 1000) / documents,
    steady: rest / (run.seconds - quarter.seconds),
    cpuMs: before ? ((run.cpuSeconds - before) * 1000) / rest : undefined,
    peakMb: run.peakMb,
  };
}
