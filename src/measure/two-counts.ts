/** Two counts over two exposures: exact ratio and test, and how much must be counted to see a change. */
import jstat from "jstat";
import type { Interval } from "./counting.js";
import { clopperPearson, Z95 } from "./proportions.js";

const { beta, normal, gammaln } = jstat.jStat;

export interface RateRatio extends Interval {
  /** First rate over second. */
  readonly ratio: number;
  /** Twice the smaller exact tail, at most 1: below 0.05 exactly when the limits leave out 1. */
  readonly p: number;
}

/**
 * Ratio of rate `count1 / exposure1` to `count2 / exposure2`, with exact limits and the doubled p value, both from the
 * binomial share of the first count in the sum, so that they agree (Fay 2010). `high` is Infinity when the second count
 * is 0. Undefined when both counts are 0.
 */
export function rateRatio(
  count1: number,
  exposure1: number,
  count2: number,
  exposure2: number,
): RateRatio | undefined {
  const sum = count1 + count2;
  if (sum === 0) return undefined;
  const share = clopperPearson(count1, sum);
  const odds = (p: number) => (p >= 1 ? Number.POSITIVE_INFINITY : ((p / (1 - p)) * exposure2) / exposure1);
  const p0 = exposure1 / (exposure1 + exposure2);
  const below = count1 === sum ? 1 : 1 - beta.cdf(p0, count1 + 1, sum - count1);
  const above = count1 === 0 ? 1 : beta.cdf(p0, count1, sum - count1 + 1);
  return {
    ratio: count2 === 0 ? Number.POSITIVE_INFINITY : count1 / exposure1 / (count2 / exposure2),
    low: odds(share.low),
    high: odds(share.high),
    p: Math.min(1, 2 * Math.min(below, above)),
  };
}

/** Chance that the exact test at 0.05 calls two Poisson counts of these means (over equal exposures) different. */
export function powerOfTwoCounts(mean1: number, mean2: number): number {
  const mean = mean1 + mean2;
  const p = mean1 / mean;
  const spread = 6 * Math.sqrt(mean) + 6;
  let power = 0;
  for (let n = Math.max(0, Math.floor(mean - spread)); n <= mean + spread; n++) {
    const weight = Math.exp(n * Math.log(mean) - mean - gammaln(n + 1));
    const k = rejectUpTo(n);
    if (k >= 0) power += weight * (binomialUpTo(k, n, p) + binomialUpTo(k, n, 1 - p));
  }
  return Math.min(1, power);
}

/** By n below the limit: it depends on nothing else and is asked for many times over. */
const REMEMBERED = 5000;
const rejected: number[] = [];

/** Largest k whose lower tail under a fair split of n is at most 0.025; -1 when even 0 is not. */
function rejectUpTo(n: number): number {
  const known = rejected[n];
  if (known !== undefined) return known;
  // The normal point is within one or two of the answer; summing from 0 would underflow for large n.
  let k = Math.max(-1, Math.floor(n / 2 - (Z95 * Math.sqrt(n)) / 2));
  while (k >= 0 && binomialUpTo(k, n, 0.5) > 0.025) k--;
  while (k < n && binomialUpTo(k + 1, n, 0.5) <= 0.025) k++;
  if (n < REMEMBERED) rejected[n] = k;
  return k;
}

/** Summed from k down, each term from the one before. */
function binomialUpTo(k: number, n: number, p: number): number {
  if (k < 0) return 0;
  let term = Math.exp(
    gammaln(n + 1) - gammaln(k + 1) - gammaln(n - k + 1) + k * Math.log(p) + (n - k) * Math.log1p(-p),
  );
  const odds = (1 - p) / p;
  let sum = term;
  for (let i = k; i > 0 && term >= sum * 1e-12; i--) {
    term *= (i / (n - i + 1)) * odds;
    sum += term;
  }
  return sum;
}

/**
 * Fields of view needed at each of two visits to see a change by `factor` (0.75 is a fall of a quarter) in eight of ten
 * such comparisons, when a field shows `perField` on average at the first. Exact power, not an approximation.
 * Undefined when nothing was counted, the factor is 1, or more than 200 fields would be needed.
 */
export function fieldsNeeded(perField: number, factor: number, power = 0.8): number | undefined {
  if (!(perField > 0) || !(factor > 0) || factor === 1) return undefined;
  const z = Z95 + normal.inv(power, 0, 1);
  // The square root of a count has a spread of one half whatever its mean: a start near the answer.
  const start = (z * z) / (2 * perField * (1 - Math.sqrt(factor)) ** 2);
  if (start > 250) return undefined;
  const reaches = (fields: number) =>
    powerOfTwoCounts(fields * perField, fields * perField * factor) >= power;
  let fields = Math.max(1, Math.floor(start));
  while (fields > 1 && reaches(fields - 1)) fields--;
  while (fields <= 200 && !reaches(fields)) fields++;
  return fields <= 200 ? fields : undefined;
}
