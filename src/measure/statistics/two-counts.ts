/** Two counts over two exposures: ratio and test, and how much must be counted to see a change. */
import jstat from "jstat";
import type { Interval } from "./counting.js";
import { clopperPearson, Z95 } from "./proportions.js";

const { beta, normal } = jstat.jStat;

export interface RateRatio extends Interval {
  /** First rate over second. */
  readonly ratio: number;
  /** Twice the smaller tail, at most 1: below 0.05 exactly when the limits leave out 1. */
  readonly p: number;
}

/**
 * Ratio of rate `count1 / exposure1` to `count2 / exposure2`, with exact limits and the doubled p value, both from the
 * binomial share of the first count in the sum, so that they agree (Fay 2010). `high` is Infinity when the second count
 * is 0. Undefined when both counts are 0. Counts whose variance is `times` that of independent counts are taken for the
 * counts they are worth, with half a count for the steps between whole counts.
 */
export function rateRatio(
  count1: number,
  exposure1: number,
  count2: number,
  exposure2: number,
  times = 1,
): RateRatio | undefined {
  if (count1 + count2 === 0) return undefined;
  const odds = (p: number) => (p >= 1 ? Number.POSITIVE_INFINITY : ((p / (1 - p)) * exposure2) / exposure1);
  const p0 = exposure1 / (exposure1 + exposure2);
  const { low, high, below, above } =
    times === 1 ? exactShare(count1, count2, p0) : worthShare(count1 / times, count2 / times, p0);
  return {
    ratio: count2 === 0 ? Number.POSITIVE_INFINITY : count1 / exposure1 / (count2 / exposure2),
    low: odds(low),
    high: odds(high),
    p: Math.min(1, 2 * Math.min(below, above)),
  };
}

interface ShareOfSum extends Interval {
  /** Tails of the share against that of the exposures. */
  readonly below: number;
  readonly above: number;
}

function exactShare(count1: number, count2: number, p0: number): ShareOfSum {
  return {
    ...clopperPearson(count1, count1 + count2),
    below: count2 === 0 ? 1 : 1 - beta.cdf(p0, count1 + 1, count2),
    above: count1 === 0 ? 1 : beta.cdf(p0, count1, count2 + 1),
  };
}

function worthShare(worth1: number, worth2: number, p0: number): ShareOfSum {
  const [a, b] = [worth1 + 0.5, worth2 + 0.5];
  const above = beta.cdf(p0, a, b);
  return {
    low: worth1 === 0 ? 0 : beta.inv(0.025, a, b),
    high: worth2 === 0 ? 1 : beta.inv(0.975, a, b),
    below: worth2 === 0 ? 1 : 1 - above,
    above: worth1 === 0 ? 1 : above,
  };
}

/** One plan of counting: a mean per field, fields at each visit, and the spread of a field (variance over mean). */
export interface CountingPlan {
  readonly perField: number;
  readonly fields: number;
  readonly times: number;
}

/**
 * True when a change by `factor` (0.75 is a fall of a quarter) would be told in `power` of comparisons: the log of the
 * ratio against its standard error (delta method).
 */
export function tells({ perField, fields, times }: CountingPlan, factor: number, power = 0.8): boolean {
  const error = Math.sqrt((times / fields) * (1 / perField + 1 / (perField * factor)));
  return Math.abs(Math.log(factor)) >= (Z95 + normal.inv(power, 0, 1)) * error;
}

/**
 * Smallest fall, in percent, that such a plan would show in eight of ten comparisons; undefined when it would show none
 * short of everything. Throws for a plan in which nothing is counted.
 */
export function smallestFall(plan: CountingPlan, power = 0.8): number | undefined {
  if (!(plan.perField > 0)) throw new RangeError(`nothing counted per field: ${plan.perField}`);
  for (let percent = 1; percent < 100; percent++) if (tells(plan, 1 - percent / 100, power)) return percent;
  return undefined;
}

const MOST_FIELDS = 200;

/**
 * Fields of view needed at each of two visits to see a change by `factor` in eight of ten such comparisons, when a field
 * shows `perField` on average at the first and `spread` gives the variance over mean for a number of fields at each.
 * Undefined when nothing was counted, the factor is 1, or more than 200 fields would be needed.
 */
export function fieldsNeeded(
  perField: number,
  factor: number,
  spread: (fields: number) => number,
  power = 0.8,
): number | undefined {
  if (!(perField > 0) || !(factor > 0) || factor === 1) return undefined;
  for (let fields = 1; fields <= MOST_FIELDS; fields++) {
    if (tells({ perField, fields, times: spread(fields) }, factor, power)) return fields;
  }
  return undefined;
}

/**
 * Fields of view needed at each of two visits to see such a difference in eight of ten comparisons, when `variance` gives that of the
 * difference for a number of fields at each, one field telling no spread. Undefined when more than 200 would be needed.
 */
export function fieldsForDifference(
  difference: number,
  variance: (fields: number) => number,
  power = 0.8,
): number | undefined {
  for (let fields = 2; fields <= MOST_FIELDS; fields++) {
    if (difference >= (Z95 + normal.inv(power, 0, 1)) * Math.sqrt(variance(fields))) return fields;
  }
  return undefined;
}
