/** How sure a count of hairs is: exact Poisson limits for one count over an area. Assumes hairs placed independently; a guide, since hairs grow in units. */
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

/** Rate and its limits for a count over an exposure (an area, a number of fields), in counts per unit of exposure. */
export function rate(count: number, exposure: number): Interval & { readonly value: number } {
  if (!(exposure > 0)) throw new RangeError(`not an exposure: ${exposure}`);
  const { low, high } = countLimits(count);
  return { value: count / exposure, low: low / exposure, high: high / exposure };
}

/** Area in cm² of `fields` round fields of view of the given diameter in mm. */
export function fieldAreaCm2(diameterMm: number, fields = 1): number {
  return (fields * Math.PI * diameterMm * diameterMm) / 400;
}
