/** Measured numbers -> Markdown. */
import type { BatchRun } from "./batches.js";
import type { Standing } from "./contest.js";

/** A column of numbers is set to the right. Throws when a row is not as long as the head. */
export function table(head: readonly string[], rows: readonly (readonly (string | number)[])[]): string {
  if (rows.some((row) => row.length !== head.length)) throw new RangeError("a row does not fit its head");
  const isNumber = head.map(
    (_, i) =>
      rows.some((row) => typeof row[i] === "number") &&
      rows.every((row) => typeof row[i] === "number" || row[i] === ""),
  );
  const line = (cells: readonly (string | number)[]) => `| ${cells.join(" | ")} |`;
  return [line(head), line(isNumber.map((right) => (right ? "--:" : "---"))), ...rows.map(line)].join("\n");
}

function round(value: number, digits = 1): number {
  return Number(value.toFixed(digits));
}

export function batchTable(runs: readonly BatchRun[]): string {
  return table(
    [
      "`batch`",
      "Visits",
      "Documents",
      "Whole run, documents a second",
      "Whole run, processor ms a document",
      "Steady, documents a second",
      "Steady, processor ms a document",
      "Peak MB",
    ],
    runs.map((run) => [
      `${run.workers === 1 ? "1 worker" : `${run.workers} workers`}, ${run.proof ? "proofed" : "`--no-proof`"}`,
      run.visits,
      run.documents,
      round(run.whole),
      run.wholeCpuMs === undefined ? "" : round(run.wholeCpuMs),
      round(run.steady),
      run.cpuMs === undefined ? "" : round(run.cpuMs),
      run.peakMb === undefined ? "" : round(run.peakMb, 0),
    ]),
  );
}

/** Pages and words are those of the same letters, so that a contestant that draws less can be seen to. */
export function standingTable(standings: readonly Standing[]): string {
  return table(
    [
      "One letter after the other",
      "ms a document",
      "Processor ms a document",
      "Documents a second",
      "Pages",
      "Words",
    ],
    standings.map((s) => [
      s.what,
      round(s.ms),
      s.isElsewhere ? "" : round(s.cpuMs),
      round(1000 / s.ms),
      s.pages,
      s.words,
    ]),
  );
}

export interface Goal {
  readonly goal: string;
  /** What was set against what. */
  readonly of: string;
  /** Undefined when it was not measured; then `why` says why. */
  readonly ratio: number | undefined;
  readonly why?: string;
  readonly isMet: (ratio: number) => boolean;
}

export function goalTable(goals: readonly Goal[]): string {
  return table(
    ["Goal", "Of", "Measured", "Met"],
    goals.map(({ goal, of, ratio, why, isMet }) => [
      goal,
      of,
      ratio === undefined ? (why ?? "not measured") : `${ratio.toFixed(2)} times`,
      ratio === undefined ? "" : isMet(ratio) ? "yes" : "no",
    ]),
  );
}
