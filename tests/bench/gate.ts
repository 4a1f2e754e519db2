/** Ratios of processor times held against those that are kept in `ratios.json`, so that what has become slower is noticed before a release. */
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { inPackage } from "../../src/base/root.js";
import type { BatchRun } from "./batches.js";
import type { ColdStart } from "./cold-starts.js";
import type { Standing } from "./contest.js";
import { table } from "./table.js";

/** By what is set against what. */
export type Ratios = Readonly<Record<string, number>>;

export interface Gauged {
  readonly ours: Pick<Standing, "cpuMs"> | undefined;
  readonly floor: Pick<Standing, "cpuMs"> | undefined;
  readonly batches: readonly Pick<BatchRun, "workers" | "proof" | "wholeCpuMs">[];
  readonly starts: readonly ColdStart[];
}

/**
 * Two runs of the same code on a busy machine differ by up to a tenth in these ratios, since both sides of each were measured in
 * one run and in processor time; a change that costs more than this is no chance.
 */
export const NOISE = 0.15;

const FILE = inPackage("tests", "bench", "ratios.json");

/** Everything in floors: what stock pdfkit takes to draw the same document by hand. */
export function ratiosOf({ ours, floor, batches, starts }: Gauged): Ratios {
  if (!floor) return {};
  const found: Record<string, number> = {};
  const put = (of: string, ms: number | undefined) => {
    if (ms !== undefined) found[of] = Number((ms / floor.cpuMs).toFixed(2));
  };
  put("page room", ours?.cpuMs);
  for (const { workers, proof, wholeCpuMs } of batches)
    put(
      `batch whole, ${workers} worker${workers === 1 ? "" : "s"}, ${proof ? "proofed" : "not proofed"}`,
      wholeCpuMs,
    );
  for (const { what, cpuMs } of starts) put(`cold start of ${what}`, cpuMs);
  return found;
}

/** Those of the kept ratios that were measured again. */
export function among(kept: Ratios, found: Ratios): Ratios {
  return Object.fromEntries(Object.entries(kept).filter(([of]) => Object.hasOwn(found, of)));
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
    if (now > before * (1 + NOISE)) return { of, kept: before, found: now, says: "slower" };
    const isQuicker = now < before * (1 - NOISE);
    return { of, kept: before, found: now, says: isQuicker ? "quicker: keep the new figure" : "as before" };
  });
}

export function isShut(verdicts: readonly Verdict[]): boolean {
  return verdicts.some(({ says }) => says === "slower" || says === "not measured");
}

export function gateTable(verdicts: readonly Verdict[]): string {
  return table(
    ["Processor time, in floors", "Kept", "Found", ""],
    verdicts.map(({ of, kept, found, says }) => [of, kept ?? "", found ?? "", says]),
  );
}

export function keptRatios(): Ratios {
  return existsSync(FILE) ? JSON.parse(readFileSync(FILE, "utf8")) : {};
}

export function keep(ratios: Ratios): void {
  writeFileSync(FILE, `${JSON.stringify(ratios, null, 2)}\n`);
}
