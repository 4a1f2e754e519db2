/** Turns counts and values into measures with their intervals, so that every share, rate and mean is worked alike. */
import { rate } from "./counting.js";
import { meanLimits, type Summary } from "./means.js";
import { wilson } from "./proportions.js";
import type { MeasuredDraft } from "./score.js";

/** `part` of `of` as a percentage with Wilson limits. */
export function shareDraft(part: number, of: number): MeasuredDraft {
  const { low, high } = wilson(part, of);
  return {
    value: (100 * part) / of,
    unit: "%",
    ucum: "%",
    low: 100 * low,
    high: 100 * high,
    n: of,
    counted: { kind: "share", part, of },
    places: 1,
    method: "Wilson limits",
  };
}

/** `count` over `exposure` with exact limits. */
export function rateDraft(
  count: number,
  exposure: number,
  fields: number,
  unit: { readonly unit: string; readonly ucum: string; readonly places: number },
): MeasuredDraft {
  return {
    ...rate(count, exposure),
    ...unit,
    n: count,
    counted: { kind: "rate", count, exposure, fields },
    method: "exact Poisson limits",
  };
}

/** A mean with Student limits; a single value has none. */
export function meanDraft(
  summary: Summary,
  unit: { readonly unit: string; readonly ucum: string; readonly places: number },
): MeasuredDraft {
  const limits = meanLimits(summary);
  return {
    value: summary.mean,
    ...unit,
    ...(limits ? { ...limits, method: "Student limits of the mean" } : {}),
    n: summary.n,
    counted: { kind: "mean", ...summary },
  };
}

/** A score judged by eye or added from points: no interval applies. */
export function pointsDraft(value: number, unit: string, ucum: string, places: number): MeasuredDraft {
  return { value, unit, ucum, places };
}
