/** How sure a count is: exact Poisson limits for one count, wider where counts vary more than chance. */
import jstat from "jstat";

const { chisquare } = jstat.jStat;

/** A 95 percent interval. */
export interface Interval {
  readonly low: number;
  readonly high: number;
}

/**
 * Exact 95 percent limits for a Poisson count (Garwood 1936): half the chi-square quantiles at 2n and 2n + 2 degrees of
 * freedom. `countLimits(10)` is 4.80 to 18.39; a count of 0 has 0 to 3.689. Throws for anything but a whole number from 0.
 */
export function countLimits(count: number): Interval {
  if (!Number.isInteger(count) || count < 0) throw new RangeError(`not a count: ${count}`);
  return {
    low: count === 0 ? 0 : chisquare.inv(0.025, 2 * count) / 2,
    high: chisquare.inv(0.975, 2 * count + 2) / 2,
  };
}

/**
 * 95 percent limits of a count whose variance is `times` that of independent counts: those of the count it is worth
 * (count over `times`, with half a count for the steps between whole counts), scaled back. Exact limits when `times` is 1.
 */
export function spreadLimits(count: number, times: number): Interval {
  if (times === 1) return countLimits(count);
  const worth = 2 * (count / times) + 1;
  return {
    low: count === 0 ? 0 : (times * chisquare.inv(0.025, worth)) / 2,
    high: (times * chisquare.inv(0.975, worth)) / 2,
  };
}

/** Rate and its limits for a count over an exposure (an area, a number of fields), in counts per unit of exposure. */
export function rate(count: number, exposure: number, times = 1): Interval & { readonly value: number } {
  if (!(exposure > 0)) throw new RangeError(`not an exposure: ${exposure}`);
  const { low, high } = spreadLimits(count, times);
  return { value: count / exposure, low: low / exposure, high: high / exposure };
}

/** Area in cm² of `fields` round fields of view of the given diameter in mm. */
export function fieldAreaCm2(diameterMm: number, fields = 1): number {
  return (fields * Math.PI * diameterMm * diameterMm) / 400;
}
