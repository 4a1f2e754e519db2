/** What a person waits for who runs one command on one visit: the best of a few cold starts. */
import { join } from "node:path";
import { freshVisits } from "./fresh-visits.js";
import { runCommand } from "./run-command.js";
import { table } from "./table.js";

export interface ColdStart {
  readonly what: string;
  readonly ms: number;
  readonly cpuMs: number;
  readonly peakMb: number;
}

const RUNS = 7;

/** What is started, by name, on one visit written below `scratch`. */
export function startCommands(scratch: string): ReadonlyMap<string, readonly string[]> {
  const file = freshVisits(join(scratch, "one"), 1).files[0] ?? "";
  const out = join(scratch, "cold");
  return new Map([
    ["`explain`", ["explain", file]],
    ["`check --no-trial`", ["check", "--no-trial", file]],
    ["`check`", ["check", file]],
    ["`letter`, one document", ["letter", file, "--out", out, "--document", "referral-letter"]],
  ]);
}

export async function coldStarts(scratch: string): Promise<ColdStart[]> {
  const starts: ColdStart[] = [];
  for (const [what, args] of startCommands(scratch)) {
    const runs = [];
    for (let i = 0; i < RUNS; i += 1) runs.push(await runCommand(args));
    starts.push({
      what,
      ms: 1000 * Math.min(...runs.map(({ seconds }) => seconds)),
      cpuMs: 1000 * Math.min(...runs.map(({ cpuSeconds }) => cpuSeconds)),
      peakMb: Math.max(...runs.map(({ peakMb }) => peakMb)),
    });
  }
  return starts;
}

export function startTable(starts: readonly ColdStart[]): string {
  return table(
    ["Cold start", "ms", "Processor ms", "Peak MB"],
    starts.map(({ what, ms, cpuMs, peakMb }) => [
      what,
      Math.round(ms),
      Math.round(cpuMs),
      Math.round(peakMb),
    ]),
  );
}
