/** What a person waits for who runs one command on one visit: the best of a few cold starts. */
import { join } from "node:path";
import { freshVisits } from "./fresh-visits.js";
import { runCommand } from "./run-command.js";
import { table } from "./table.js";

export interface ColdStart {
  readonly what: string;
  readonly ms: number;
  readonly cpuMs: number | undefined;
  readonly peakMb: number | undefined;
}

const RUNS = 7;

export async function coldStarts(scratch: string): Promise<ColdStart[]> {
  const file = freshVisits(join(scratch, "one"), 1).files[0] ?? "";
  const commands: Record<string, readonly string[]> = {
    "`explain`": ["explain", file],
    "`check --no-trial`": ["check", "--no-trial", file],
    "`check`": ["check", file],
    "`letter`, one document": [
      "letter",
      file,
      "--out",
      join(scratch, "cold"),
      "--document",
      "referral-letter",
    ],
  };
  const starts: ColdStart[] = [];
  for (const [what, args] of Object.entries(commands)) {
    const runs = [];
    for (let i = 0; i < RUNS; i += 1) runs.push(await runCommand(args));
    const cpu = runs.flatMap(({ cpuSeconds }) => cpuSeconds ?? []);
    const peaks = runs.flatMap(({ peakMb }) => peakMb ?? []);
    starts.push({
      what,
      ms: 1000 * Math.min(...runs.map(({ seconds }) => seconds)),
      cpuMs: cpu.length > 0 ? 1000 * Math.min(...cpu) : undefined,
      peakMb: peaks.length > 0 ? Math.max(...peaks) : undefined,
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
      cpuMs === undefined ? "" : Math.round(cpuMs),
      peakMb === undefined ? "" : Math.round(peakMb),
    ]),
  );
}
