/** Means of measured diameters: spread, interval, and the difference of two. */
import jstat from "jstat";
import type { Interval } from "./counting.js";
import { Z95 } from "./proportions.js";

const { chisquare, studentt } = jstat.jStat;

export interface Summary {
  readonly n: number;
  readonly mean: number;
  /** Sample standard deviation; 0 for a single value. */
  readonly sd: number;
}

/** Mean and sample standard deviation; undefined for an empty list. */
export function summarise(values: readonly number[]): Summary | undefined {
  const n = values.length;
  if (n === 0) return undefined;
  const mean = values.reduce((a, b) => a + b, 0) / n;
  const squares = values.reduce((a, b) => a + (b - mean) ** 2, 0);
  return { n, mean, sd: n > 1 ? Math.sqrt(squares / (n - 1)) : 0 };
}

/**
 * 95 percent limits of the mean by Student's t; undefined for fewer than two values. Of a mean whose variance is `times` that of
 * independent values, those of as many as they are worth.
 */
export function meanLimits({ n, mean, sd }: Summary, times = 1): Interval | undefined {
  if (n < 2) return undefined;
  const half = studentt.inv(0.975, n - 1) * sd * Math.sqrt(times / n);
  return { low: mean - half, high: mean + half };
}

/** 95 percent limits of a standard deviation by the chi-square distribution; undefined for fewer than two values. */
export function sdLimits({ n, sd }: Summary): Interval | undefined {
  if (n < 2) return undefined;
  const df = n - 1;
  return {
    low: sd * Math.sqrt(df / chisquare.inv(0.975, df)),
    high: sd * Math.sqrt(df / chisquare.inv(0.025, df)),
  };
}

export interface Welch extends Interval {
  /** Second mean minus first. */
  readonly difference: number;
  readonly t: number;
  readonly df: number;
  readonly p: number;
}

/**
 * Second mean minus first with Welch's unequal-variance limits and two-sided p (NIST/SEMATECH handbook 1.3.5.3).
 * Undefined when either has fewer than two values or neither varies. `times` as for `meanLimits`.
 */
export function welch(first: Summary, second: Summary, times = 1): Welch | undefined {
  if (first.n < 2 || second.n < 2) return undefined;
  const v1 = (times * first.sd ** 2) / first.n;
  const v2 = (times * second.sd ** 2) / second.n;
  if (v1 + v2 === 0) return undefined;
  const error = Math.sqrt(v1 + v2);
  const df = (v1 + v2) ** 2 / (v1 ** 2 / (first.n - 1) + v2 ** 2 / (second.n - 1));
  const difference = second.mean - first.mean;
  const t = difference / error;
  const half = studentt.inv(0.975, df) * error;
  return {
    difference,
    low: difference - half,
    high: difference + half,
    t,
    df,
    p: 2 * studentt.cdf(-Math.abs(t), df),
  };
}

/**
 * 95 percent limits of a positive value worked from means and counts, on the log scale, given the squared relative
 * standard error of its log (delta method). Undefined for a value of 0.
 */
export function logLimits(value: number, relativeVariance: number): Interval | undefined {
  if (!(value > 0) || !Number.isFinite(relativeVariance)) return undefined;
  const spread = Math.exp(Z95 * Math.sqrt(relativeVariance));
  return { low: value / spread, high: value * spread };
}

/** Squared relative standard error of a mean. */
export function relativeVarianceOfMean({ n, mean, sd }: Summary): number {
  return (sd / mean) ** 2 / n;
}

/** Squared relative standard error of a coefficient of variation of near-normal values; Infinity for a single value. */
export function relativeVarianceOfCv({ n, mean, sd }: Summary): number {
  return (sd / mean) ** 2 / n + 1 / (2 * (n - 1));
}
