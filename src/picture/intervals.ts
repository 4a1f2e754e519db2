/** 95 percent intervals of what marks count and measure, and how several errors of one number are joined. */
import jstat from "jstat";

const { chisquare, studentt } = jstat.jStat;

/** Two-sided 95 percent point of the normal curve. */
export const Z95 = 1.959963984540054;

export interface Estimate {
  readonly value: number;
  readonly low: number;
  readonly high: number;
}

/** Exact limits of a count that falls by chance (Garwood 1936). */
export function poisson(count: number): Estimate {
  return {
    value: count,
    low: count === 0 ? 0 : chisquare.inv(0.025, 2 * count) / 2,
    high: chisquare.inv(0.975, 2 * count + 2) / 2,
  };
}

/** Score limits of a share (Wilson 1927, in the form of Newcombe 1998), as fractions; undefined of nothing. */
export function share(part: number, of: number): Estimate | undefined {
  if (of === 0) return undefined;
  const p = part / of;
  const z2 = Z95 ** 2 / of;
  const centre = (p + z2 / 2) / (1 + z2);
  const half = (Z95 * Math.sqrt((p * (1 - p)) / of + z2 / (4 * of))) / (1 + z2);
  return { value: p, low: part === 0 ? 0 : centre - half, high: part === of ? 1 : centre + half };
}

/** Mean with Student's limits; of a single value the limits are the value. Undefined of none. */
export function mean(
  values: readonly number[],
): (Estimate & { readonly n: number; readonly sd: number }) | undefined {
  const n = values.length;
  if (n === 0) return undefined;
  const value = values.reduce((a, b) => a + b, 0) / n;
  const sd = n > 1 ? Math.sqrt(values.reduce((a, b) => a + (b - value) ** 2, 0) / (n - 1)) : 0;
  const half = n > 1 ? (studentt.inv(0.975, n - 1) * sd) / Math.sqrt(n) : 0;
  return { value, low: value - half, high: value + half, n, sd };
}

/**
 * A further error with its own standard error, not bound to the first: the distances to the limits add as squares (variance
 * recovered from limits: Zou and Donner 2008, from memory).
 */
export function widened({ value, low, high }: Estimate, standardError: number): Estimate {
  const more = Z95 * standardError;
  return {
    value,
    low: Math.max(0, value - Math.hypot(value - low, more)),
    high: value + Math.hypot(high - value, more),
  };
}
