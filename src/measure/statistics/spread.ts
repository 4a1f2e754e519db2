/** How much more counts vary than chance alone: hairs grow in units, spots differ, and no two readers count alike. */
import jstat from "jstat";
import { z } from "zod";
import { type PartOf, Z95 } from "./proportions.js";

const { chisquare, studentt } = jstat.jStat;

/** What published counts say of spread, where the fields at hand cannot. */
export const spreadSchema = z.strictObject({
  /** Variance over mean of a count that comes in clumps, such as hairs in units; 1 for what stands alone. */
  clumping: z.number().min(1),
  /** Percent by which counts of one scalp differ between spots and readings (coefficient of variation). */
  cv_percent: z.number().min(0),
  source: z.string(),
  how: z.enum(["read", "abstract", "memory"]),
});
export type PublishedSpread = Pick<z.infer<typeof spreadSchema>, "clumping" | "cv_percent">;

export interface Spread {
  /** Variance of a count over that of independent counts, widened for how few fields it was estimated from. */
  readonly times: number;
  /** Whether the fields at hand told it, published counts did, or nothing did (independent counts are assumed). */
  readonly from: "fields" | "published" | "none";
  /** Degrees of freedom of the fields that told it. */
  readonly freedom?: number;
}

/** Below this many degrees of freedom the fields tell too little of their own spread. */
export const LEAST_FREEDOM = 2;
/** Weight, in degrees of freedom, of plain chance beside the fields: equal counts must not look certain. Ours to state. */
const ANCHOR = 0.1;
/** Pearson's chi-square is a poor guide where fewer than this are expected in a field (the usual rule; common practice). */
const LEAST_EXPECTED = 5;
const MORE_THAN_CHANCE = 0.99;

/**
 * Spread of counts of equal fields, grouped by visit: the quasi-Poisson dispersion (Pearson's chi-square over its degrees
 * of freedom), drawn towards chance as in moderated tests (Smyth 2004), and widened from the normal to Student's point.
 * More fields never look less sure than one field by published spread, which stands alone below two degrees of freedom;
 * without one, that of independent counts does.
 * Sources: Smyth GK. Linear models and empirical Bayes methods for assessing differential expression. Stat Appl Genet Mol Biol 2004;3:3, as restated on the help page of its software
 * Quasi-Poisson dispersion: documentation page read at metricgate.com.
 */
export function spreadOf(groups: readonly (readonly number[])[], published?: PublishedSpread): Spread {
  const counts = groups.flat();
  const freedom = counts.length - groups.length;
  const mean = counts.length === 0 ? 0 : counts.reduce((a, b) => a + b, 0) / counts.length;
  const known = published && publishedTimes(mean, published);
  const squares = sum(groups.map(pearson));
  // Few to a field: published spread stands unless the fields differ by more than chance.
  const telling =
    known === undefined || mean >= LEAST_EXPECTED || chisquare.cdf(squares, freedom) > MORE_THAN_CHANCE;
  if (freedom >= LEAST_FREEDOM && telling) {
    const own = moderated(squares, freedom);
    // One field of each visit, by published spread, has the variance of so many fields with that many times the spread.
    const fields = groups.length / groups.reduce((sum, group) => sum + 1 / group.length, 0);
    return { times: known === undefined ? own : Math.min(own, fields * known), from: "fields" };
  }
  return known === undefined ? { times: 1, from: "none" } : { times: known, from: "published" };
}

/**
 * Spread of shares of fields, grouped by visit: the design effect of Rao and Scott (Biometrics 1992;48:577-585, as the help page of a
 * statistics library restates it), the variance of a share between fields over that of things that fall independently, with chance and
 * Student's point beside it as for counts. Below two degrees of freedom things stand as independent: no published spread of a share over
 * spots of one scalp was found. A visit that holds but one kind tells nothing.
 */
export function spreadOfShares(groups: readonly (readonly PartOf[])[]): Spread {
  return designEffect(groups, (share) => share * (1 - share));
}

/** The same of means of small things, such as hairs of a unit: `part` is the sum over the `of` things of a field, `sd` that of one thing. */
export function spreadOfMeans(
  groups: readonly { readonly each: readonly PartOf[]; readonly sd: number }[],
): Spread {
  const sds = groups.map((group) => group.sd ** 2);
  return designEffect(
    groups.map((group) => group.each),
    (_, visit) => sds[visit] ?? 0,
  );
}

function designEffect(
  groups: readonly (readonly PartOf[])[],
  variance: (mean: number, group: number) => number,
): Spread {
  const told = groups.flatMap((group, i) => {
    const fields = group.filter(({ of }) => of > 0);
    const [part, of] = [sum(fields.map((f) => f.part)), sum(fields.map((f) => f.of))];
    const mean = of > 0 ? part / of : 0;
    const alone = variance(mean, i);
    if (fields.length < 2 || alone === 0) return [];
    const squares = sum(fields.map((f) => (f.part - f.of * mean) ** 2));
    // The design effect times its freedom, which adds up over visits as chi-square does.
    return [{ freedom: fields.length - 1, squares: (fields.length * squares) / (of * alone) }];
  });
  const freedom = sum(told.map((group) => group.freedom));
  if (freedom < LEAST_FREEDOM) return { times: 1, from: "none" };
  return { times: moderated(sum(told.map((group) => group.squares)), freedom), from: "fields", freedom };
}

/**
 * By how much a variance estimated with so many degrees of freedom must be widened so that the normal point serves for
 * Student's: 1 where the fields do not tell their own spread.
 */
export function studentFactor(freedom: number): number {
  return freedom < LEAST_FREEDOM ? 1 : (studentt.inv(0.975, freedom + ANCHOR) / Z95) ** 2;
}

/** Variance over mean for a field of this mean: clumps, and spots that differ. */
export function publishedTimes(mean: number, { clumping, cv_percent }: PublishedSpread): number {
  return clumping + (cv_percent / 100) ** 2 * mean;
}

/** Variance over mean of hairs in units when units fall independently: the mean square over the mean of unit sizes. */
export function clumpingOf(...counted: readonly Readonly<Record<string, number>>[]): number {
  const sizes = counted.flatMap(Object.entries).map(([hairs, count]) => [Number(hairs), count] as const);
  const hairs = sum(sizes.map(([size, count]) => size * count));
  return sum(sizes.map(([size, count]) => size * size * count)) / hairs;
}

/** Dispersion with a little of chance beside it, widened for how few fields told it. */
const moderated = (squares: number, freedom: number) =>
  ((squares + ANCHOR) / (freedom + ANCHOR)) * studentFactor(freedom);

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

function pearson(group: readonly number[]): number {
  const mean = group.reduce((a, b) => a + b, 0) / group.length;
  return mean === 0 ? 0 : group.reduce((sum, count) => sum + (count - mean) ** 2 / mean, 0);
}
