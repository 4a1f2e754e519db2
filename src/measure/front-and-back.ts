/** Frontal against occipital: the counts and diameters of both regions and their ratios, one way for measures and criteria. */

import type { Visit } from "../visit/visit.js";
import { withoutUndefined } from "../visit/without-undefined.js";
import { countsOf, fewFieldsCaveat, RATIO_METHODS, shareMethod } from "./drafts.js";
import { partsOf, pooledRegion, singleUnits, sumFields, sumUnits } from "./fields.js";
import type { Interval } from "./statistics/counting.js";
import { type Summary, summarise } from "./statistics/means.js";
import { type PartOf, shareRatio, wilson } from "./statistics/proportions.js";
import { type PublishedSpread, spreadOf, spreadOfShares } from "./statistics/spread.js";
import { rateRatio } from "./statistics/two-counts.js";

export interface FieldCounts {
  readonly count: number;
  readonly fields: number;
  /** The count of each field, when each is known. */
  readonly each?: readonly number[];
}

export interface ShareCounts extends PartOf {
  /** The same in each field, when each is known. */
  readonly each?: readonly PartOf[];
}

export interface RegionCounts {
  /** Hairs over fields in which hairs were counted. */
  readonly hairs?: FieldCounts;
  readonly thin?: ShareCounts;
  readonly vellus?: FieldCounts;
  readonly singleUnits?: ShareCounts;
  /** Units by their number of hairs. */
  readonly units?: Readonly<Record<string, number>>;
  readonly discoloured?: FieldCounts;
  readonly yellowDots?: FieldCounts;
  readonly diameters?: Summary;
  /** Share of measured shafts thinner than 30 µm. */
  readonly thinByDiameter?: { readonly part: number; readonly of: number };
}

/** What was counted and measured in one region, all its sites pooled. */
export function regionCounts(visit: Visit, region: "frontal" | "occipital"): RegionCounts {
  const { fields, diametersUm } = pooledRegion(visit, region);
  const count = (key: "hairs" | "vellus" | "discolouredOpenings" | "yellowDots") => {
    const counted = sumFields(fields, [key]);
    return counted && { count: counted.sums[key], fields: counted.fields, each: counted.each[key] };
  };
  const thin = sumFields(fields, ["hairs", "thin"]);
  const units = sumUnits(fields);
  return withoutUndefined({
    hairs: count("hairs"),
    thin:
      thin && thin.sums.hairs >= Math.max(1, thin.sums.thin)
        ? { part: thin.sums.thin, of: thin.sums.hairs, each: partsOf(thin.each.thin, thin.each.hairs) }
        : undefined,
    vellus: count("vellus"),
    singleUnits: units && {
      ...singleUnits({ units: Object.fromEntries(units) }),
      each: fields.map(singleUnits),
    },
    units: units && Object.fromEntries(units),
    discoloured: count("discolouredOpenings"),
    yellowDots: count("yellowDots"),
    diameters: summarise(diametersUm),
    thinByDiameter:
      diametersUm.length > 0
        ? { part: diametersUm.filter((um) => um < 30).length, of: diametersUm.length }
        : undefined,
  });
}

export interface Ratio extends Interval {
  readonly value: number;
  readonly method: string;
  readonly caveat?: string;
}

/** Counts per field over counts per field, by their spread; undefined over none. */
export function countRatio(
  front: FieldCounts,
  back: FieldCounts,
  published: PublishedSpread,
): Ratio | undefined {
  const { times, from } = spreadOf([countsOf(front), countsOf(back)], published);
  const r = rateRatio(front.count, front.fields, back.count, back.fields, times);
  if (!r || back.count === 0) return undefined;
  return { value: r.ratio, low: r.low, high: r.high, method: RATIO_METHODS[from] };
}

/**
 * A share over a share, by their spread; undefined over none. None in front has no limits on the log scale: its highest share is set
 * over the lowest behind, which errs to the wide side.
 */
export function ratioOfShares(front: ShareCounts, back: ShareCounts, method: string): Ratio | undefined {
  if (back.part === 0) return undefined;
  const { times, from } = spreadOfShares([front.each ?? [], back.each ?? []]);
  const r = shareRatio(front.part, front.of, back.part, back.of, times);
  const few = fewFieldsCaveat(front.each, back.each);
  if (r) return { ...r, method: shareMethod(method, from), ...few };
  const high = wilson(front.part, front.of, times).high / wilson(back.part, back.of, times).low;
  return {
    value: 0,
    low: 0,
    high,
    method: shareMethod("Wilson limits of both shares, joined", from),
    ...few,
  };
}
