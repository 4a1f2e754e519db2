/**
 * Processor times held against those that are kept in `ratios.json`, so that what has become slower is noticed before a release.
 * Each is told in times of the reference process, which runs in turn with it: other work on the machine slows both, and only
 * ever slows, so the least of several runs is what stands.
 */
import { existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { inPackage } from "../../src/base/root.js";
import { startCommands } from "./cold-starts.js";
import { freshVisits } from "./fresh-visits.js";
import { runCommand, runScript } from "./run-command.js";
import { table } from "./table.js";

/** By what was measured. */
export type Ratios = Readonly<Record<string, number>>;

/** The least of several runs on a busy machine differ by a tenth at most; what takes longer by more than this has become slower. */
export const NOISE = 0.12;

const ROUNDS = 3;
/** What seems slower after those is run again, so many times at most. */
const MORE_ROUNDS = 6;

/** As many as there are examples and a third more. */
const VISITS = 24;

const FILE = inPackage("tests", "bench", "ratios.json");

/** Runs once; its processor time in milliseconds. */
export type Run = () => Promise<number>;

/** What the gate runs, by name. */
export function gauges(scratch: string): ReadonlyMap<string, Run> {
  const cpuMs = async (args: readonly string[]) => 1000 * (await runCommand(args)).cpuSeconds;
  const runs = new Map<string, Run>();
  for (const [what, args] of startCommands(scratch)) runs.set(`cold start of ${what}`, () => cpuMs(args));
  const { folder } = freshVisits(join(scratch, "gate"), VISITS);
  const out = join(scratch, "gate-out");
  for (const [how, more] of [
    ["not proofed", ["--no-proof"]],
    ["proofed", []],
  ] as const)
    runs.set(`batch of ${VISITS} visits, 1 worker, ${how}`, async () => {
      rmSync(out, { recursive: true, force: true });
      return cpuMs(["batch", folder, "--out", out, "--jobs", "1", ...more]);
    });
  return runs;
}

export const reference: Run = async () =>
  1000 * (await runScript(inPackage("tests", "bench", "reference.mjs"))).cpuSeconds;

/** Runs each in turn with the reference, and what seems slower than it was more often. */
export async function gauged(
  runs: ReadonlyMap<string, Run>,
  unit: Run,
  kept: Ratios,
  say: (text: string) => void = () => {},
): Promise<Ratios> {
  const least = new Map<string, number>();
  let leastUnit = Number.POSITIVE_INFINITY;
  const ratio = (of: string) => Number(((least.get(of) ?? Number.POSITIVE_INFINITY) / leastUnit).toFixed(3));
  for (let round = 1; round <= ROUNDS + MORE_ROUNDS; round += 1) {
    const asked = [...runs].filter(([of]) => round <= ROUNDS || isSlower(kept[of], ratio(of)));
    if (asked.length === 0) break;
    say(`round ${round}: ${asked.length} measured`);
    for (const [of, run] of asked) {
      leastUnit = Math.min(leastUnit, await unit());
      least.set(of, Math.min(least.get(of) ?? Number.POSITIVE_INFINITY, await run()));
    }
  }
  return Object.fromEntries([...runs.keys()].map((of) => [of, ratio(of)]));
}

function isSlower(kept: number | undefined, found: number): boolean {
  return kept !== undefined && found > kept * (1 + NOISE);
}

export interface Verdict {
  readonly of: string;
  readonly kept: number | undefined;
  readonly found: number | undefined;
  readonly says: "as before" | "slower" | "quicker: keep the new figure" | "not kept yet" | "not measured";
}

/** Each ratio that is kept or was found. A gate is shut by what is slower and by what was not measured. */
export function judged(kept: Ratios, found: Ratios): Verdict[] {
  return [...new Set([...Object.keys(kept), ...Object.keys(found)])].map((of) => {
    const [before, now] = [kept[of], found[of]];
    if (now === undefined) return { of, kept: before, found: now, says: "not measured" };
    if (before === undefined) return { of, kept: before, found: now, says: "not kept yet" };
    if (isSlower(before, now)) return { of, kept: before, found: now, says: "slower" };
    const isQuicker = now < before * (1 - NOISE);
    return { of, kept: before, found: now, says: isQuicker ? "quicker: keep the new figure" : "as before" };
  });
}

/** A gate that measured nothing is shut too. */
export function isShut(verdicts: readonly Verdict[]): boolean {
  return verdicts.length === 0 || verdicts.some(({ says }) => says === "slower" || says === "not measured");
}

export function gateTable(verdicts: readonly Verdict[]): string {
  return table(
    ["Processor time, in times of the reference", "Kept", "Found", ""],
    verdicts.map(({ of, kept, found, says }) => [of, kept ?? "", found ?? "", says]),
  );
}

export function keptRatios(): Ratios {
  return existsSync(FILE) ? JSON.parse(readFileSync(FILE, "utf8")) : {};
}

export function keep(ratios: Ratios): void {
  writeFileSync(FILE, `${JSON.stringify(ratios, null, 2)}\n`);
}
