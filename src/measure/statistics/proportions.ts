/** How sure a share is, and the difference or ratio of two shares. All as fractions 0-1. */
import jstat from "jstat";
import type { Interval } from "./counting.js";

const { beta, normal } = jstat.jStat;
/** Two-sided 95 percent point of the normal curve. */
export const Z95 = 1.959963984540054;

/** Some of all, such as the thin ones among the hairs of a field. */
export interface PartOf {
  readonly part: number;
  readonly of: number;
}

function checkShare(part: number, of: number): void {
  const whole = Number.isInteger(part) && Number.isInteger(of);
  if (!whole || part < 0 || of < 1 || part > of) throw new RangeError(`not a share: ${part} of ${of}`);
}

/**
 * Wilson score limits for `part` of `of`, without continuity correction (Newcombe 1998). `wilson(81, 263)` is 0.2553 to 0.3662.
 * Of a share whose variance is `times` that of independent things, those of as many as they are worth.
 */
export function wilson(part: number, of: number, times = 1): Interval {
  checkShare(part, of);
  const p = part / of;
  const worth = of / times;
  const z2 = (Z95 * Z95) / worth;
  const centre = (p + z2 / 2) / (1 + z2);
  const half = (Z95 * Math.sqrt((p * (1 - p)) / worth + z2 / (4 * worth))) / (1 + z2);
  // Binary arithmetic leaves specks beyond the ends, where the limit is known exactly.
  return { low: part === 0 ? 0 : centre - half, high: part === of ? 1 : centre + half };
}

/** Exact (Clopper-Pearson) limits for `part` of `of`. `clopperPearson(81, 263)` is 0.2527 to 0.3676. */
export function clopperPearson(part: number, of: number): Interval {
  checkShare(part, of);
  return {
    low: part === 0 ? 0 : beta.inv(0.025, part, of - part + 1),
    high: part === of ? 1 : beta.inv(0.975, part + 1, of - part),
  };
}

/**
 * Second share minus first, with the score limits of Miettinen and Nurminen (Stat Med 1985;4:213-226): those differences that a
 * test with the variance fitted under each of them does not refuse. Among few things, such as one hair of twenty, they err less to
 * the safe side than limits joined from those of each share. `p` is that of the same test of no difference. `times` as for `wilson`.
 */
export function shareDifference(
  part1: number,
  of1: number,
  part2: number,
  of2: number,
  times = 1,
): Interval & { readonly value: number; readonly p: number } {
  checkShare(part1, of1);
  checkShare(part2, of2);
  const value = part2 / of2 - part1 / of1;
  const error = (difference: number) => {
    const p1 = fittedShare(part1, of1, part2, of2, difference);
    const p2 = p1 + difference;
    const all = of1 + of2;
    const variance = (times * ((p1 * (1 - p1)) / of1 + (p2 * (1 - p2)) / of2) * all) / (all - 1);
    return Math.sqrt(Math.max(0, variance));
  };
  const refused = (difference: number, by: number) => by * (value - difference) > Z95 * error(difference);
  return {
    value,
    p: value === 0 ? 1 : 2 * (1 - normal.cdf(Math.abs(value) / error(0), 0, 1)),
    low: halve(-1, value, (difference) => refused(difference, 1)),
    high: -halve(-1, -value, (difference) => refused(-difference, -1)),
  };
}

/** The likeliest first share when the second lies higher by `difference`: where the slope of the likelihood turns. */
function fittedShare(part1: number, of1: number, part2: number, of2: number, difference: number): number {
  const slope = (part: number, of: number, p: number) =>
    (part === 0 ? 0 : part / p) - (part === of ? 0 : (of - part) / (1 - p));
  const rises = (p: number) => slope(part1, of1, p) + slope(part2, of2, p + difference) > 0;
  return halve(Math.max(0, -difference), Math.min(1, 1 - difference), rises);
}

/** Where `isBelow` turns from true to false between two ends. */
function halve(low: number, high: number, isBelow: (at: number) => boolean): number {
  let [from, to] = [low, high];
  for (let i = 0; i < 50; i++) {
    const middle = (from + to) / 2;
    if (isBelow(middle)) from = middle;
    else to = middle;
  }
  return to;
}

/**
 * First share over second, with limits on the log scale (Katz 1978, as a teaching page of Boston University restates it). Undefined when either part is 0,
 * since the ratio or its limits then have no value. `times` as for `wilson`.
 */
export function shareRatio(
  part1: number,
  of1: number,
  part2: number,
  of2: number,
  times = 1,
): (Interval & { readonly value: number }) | undefined {
  checkShare(part1, of1);
  checkShare(part2, of2);
  if (part1 === 0 || part2 === 0) return undefined;
  const value = part1 / of1 / (part2 / of2);
  const spread = Math.exp(Z95 * Math.sqrt(times * (1 / part1 - 1 / of1 + 1 / part2 - 1 / of2)));
  return { value, low: value / spread, high: value * spread };
}

/** Limits of the odds `part` to the rest, from Wilson limits of the share; no upper limit when nothing is left over. */
export function oddsLimits(
  part: number,
  of: number,
  times = 1,
): { readonly low: number; readonly high?: number } {
  const { low, high } = wilson(part, of, times);
  return { low: low / (1 - low), ...(high < 1 ? { high: high / (1 - high) } : {}) };
}
