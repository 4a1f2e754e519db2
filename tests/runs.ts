/** How much of what is made up or alike `npm test` tries, and `npm run test:long` all of it. */
import { readFileSync } from "node:fs";
import { parse } from "yaml";

/** How many made-up cases a test tries: a sixth of the full count, or as `WHORL_RUNS=1` (all) or `WHORL_RUNS=5` (five times all) say. */
const SHARE = Number(process.env.WHORL_RUNS ?? 1 / 6);

/** Whether everything is tried: `npm run test:long`. */
export const LONG = SHARE >= 1;

export function runs(full: number): number {
  return Math.max(5, Math.ceil(full * SHARE));
}

/** Of a list an even share, the first among them: as large as `runs` says, or `share` of it where not everything is tried. */
export function some<T>(all: readonly T[], share?: number): readonly T[] {
  const wanted = LONG || share === undefined ? runs(all.length) : Math.ceil(all.length * share);
  return all.filter(
    (_, i) => Math.floor((i * wanted) / all.length) !== Math.floor(((i - 1) * wanted) / all.length),
  );
}

/** An even share of the entries of a YAML file that holds one list, which alone are parsed. */
export function someEntries(file: string, share?: number): unknown[] {
  const entries = readFileSync(file, "utf8").split(/^(?=- )/mu);
  return some(
    entries.filter((entry) => entry.startsWith("- ")),
    share,
  ).flatMap((entry): unknown[] => parse(entry));
}
