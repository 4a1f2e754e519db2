/** How sure a share is, and the difference or ratio of two shares. All as fractions 0-1. */
import jstat from "jstat";
import type { Interval } from "./counting.js";

const { beta } = jstat.jStat;
/** Two-sided 95 percent point of the normal curve. */
export const Z95 = 1.959963984540054;

function checkShare(part: number, of: number): void {
  const whole = Number.isInteger(part) && Number.isInteger(of);
  if (!whole || part < 0 || of < 1 || part > of) throw new RangeError(`not a share: ${part} of ${of}`);
}

/** Wilson score limits for `part` of `of`, without continuity correction (Newcombe 1998). `wilson(81, 263)` is 0.2553 to 0.3662. */
export function wilson(part: number, of: number): Interval {
  checkShare(part, of);
  const p = part / of;
  const z2 = (Z95 * Z95) / of;
  const centre = (p + z2 / 2) / (1 + z2);
  const half = (Z95 * Math.sqrt((p * (1 - p)) / of + z2 / (4 * of))) / (1 + z2);
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

/** Second share minus first, with limits joined from the two Wilson intervals (Newcombe 1998, score method without correction). */
export function shareDifference(
  part1: number,
  of1: number,
  part2: number,
  of2: number,
): Interval & { readonly value: number } {
  const p1 = part1 / of1;
  const p2 = part2 / of2;
  const w1 = wilson(part1, of1);
  const w2 = wilson(part2, of2);
  const value = p2 - p1;
  return {
    value,
    low: value - Math.hypot(p2 - w2.low, w1.high - p1),
    high: value + Math.hypot(w2.high - p2, p1 - w1.low),
  };
}

/**
 * First share over second, with limits on the log scale (Katz 1978, as a teaching page of Boston University restates it). Undefined when either part is 0,
 * since the ratio or its limits then have no value.
 */
export function shareRatio(
  part1: number,
  of1: number,
  part2: number,
  of2: number,
): (Interval & { readonly value: number }) | undefined {
  checkShare(part1, of1);
  checkShare(part2, of2);
  if (part1 === 0 || part2 === 0) return undefined;
  const value = part1 / of1 / (part2 / of2);
  const spread = Math.exp(Z95 * Math.sqrt(1 / part1 - 1 / of1 + 1 / part2 - 1 / of2));
  return { value, low: value / spread, high: value * spread };
}

/** Limits of the odds `part` to the rest, from Wilson limits of the share; no upper limit when nothing is left over. */
export function oddsLimits(part: number, of: number): { readonly low: number; readonly high?: number } {
  const { low, high } = wilson(part, of);
  return { low: low / (1 - low), ...(high < 1 ? { high: high / (1 - high) } : {}) };
}
