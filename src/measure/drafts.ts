/** Turns counts and values into measures with their intervals, so that every share, rate and mean is worked alike. */

import type { MeasuredDraft } from "./score-module.js";
import { rate } from "./statistics/counting.js";
import { meanLimits, type Summary } from "./statistics/means.js";
import { type PartOf, wilson } from "./statistics/proportions.js";
import { LEAST_FREEDOM, type Spread, spreadOf, spreadOfMeans, spreadOfShares } from "./statistics/spread.js";
import type { CountSpread } from "./types.js";

/** How the limits of a share or mean were made, by its spread over fields. */
export const shareMethod = (method: string, from: Spread["from"]) =>
  from === "fields" ? `${method}, by the spread between the fields` : method;

/** A share of few fields has the limits of its hairs alone: how much spots of this scalp differ is not known. */
const FEW_FIELDS = "Limits of shares hold for these hairs alone.";

/** What must be said of limits that fields were too few to widen. */
export const fewFieldsCaveat = (...places: readonly (readonly unknown[] | undefined)[]) =>
  places.some((each) => each && each.length - 1 < LEAST_FREEDOM) ? { caveat: FEW_FIELDS } : {};

/** `part` of `of` as a percentage with Wilson limits; `each` where it was counted in fields. */
export function shareDraft(part: number, of: number, each?: readonly PartOf[]): MeasuredDraft {
  const { times, from } = spreadOfShares(each ? [each] : []);
  const { low, high } = wilson(part, of, times);
  return {
    value: (100 * part) / of,
    unit: "%",
    ucum: "%",
    low: 100 * low,
    high: 100 * high,
    n: of,
    counted: { kind: "share", part, of, ...(each ? { each } : {}) },
    places: 1,
    method: shareMethod("Wilson limits", from),
    ...fewFieldsCaveat(each),
  };
}

/** How the limits of a count over fields were made. */
const RATE_METHODS = {
  fields: "limits from the spread between the fields",
  published: "limits from published spread",
  none: "exact Poisson limits",
} as const satisfies Record<Spread["from"], string>;

/** How the limits of a ratio of two such counts were made. */
export const RATIO_METHODS = {
  fields: "limits from the spread between the fields",
  published: "limits from published spread of counts",
  none: "exact limits of two Poisson counts",
} as const satisfies Record<Spread["from"], string>;

/** Counts over an exposure, with limits from their spread. */
export function rateDraft(
  counts: { readonly count: number; readonly exposure: number; readonly fields: number } & CountSpread,
  unit: { readonly unit: string; readonly ucum: string; readonly places: number },
): MeasuredDraft {
  const { times, from } = spreadOf([countsOf(counts)], counts.published);
  return {
    ...rate(counts.count, counts.exposure, times),
    ...unit,
    n: counts.count,
    counted: { kind: "rate", ...counts },
    method: RATE_METHODS[from],
  };
}

/** The count of each field; where only their sum is known, as one number for each field it stands for on average. */
export function countsOf({
  count,
  fields,
  each,
}: { count: number; fields: number } & CountSpread): readonly number[] {
  return each ?? [count / fields];
}

/** A mean with Student limits; a single value has none. `each` where it was taken in fields: their sums and numbers. */
export function meanDraft(
  summary: Summary,
  unit: { readonly unit: string; readonly ucum: string; readonly places: number },
  each?: readonly PartOf[],
): MeasuredDraft {
  const { times, from } = spreadOfMeans(each ? [{ each, sd: summary.sd }] : []);
  const limits = meanLimits(summary, times);
  return {
    value: summary.mean,
    ...unit,
    ...(limits ? { ...limits, method: shareMethod("Student limits of the mean", from) } : {}),
    n: summary.n,
    counted: { kind: "mean", ...summary, ...(each ? { each } : {}) },
    ...fewFieldsCaveat(each),
  };
}

/** A score judged by eye or added from points: no interval applies. */
export function pointsDraft(value: number, unit: string, ucum: string, places: number): MeasuredDraft {
  return { value, unit, ucum, places };
}
