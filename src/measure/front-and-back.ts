/** Frontal against occipital: the counts and diameters of both regions, ready for ratios and criteria. */

import type { Visit } from "../visit/visit.js";
import { withoutUndefined } from "../visit/without-undefined.js";
import { pooledRegion, sumFields, sumUnits } from "./fields.js";
import { type Summary, summarise } from "./statistics/means.js";

interface FieldCounts {
  readonly count: number;
  readonly fields: number;
  /** The count of each field, when each is known. */
  readonly each?: readonly number[];
}

export interface RegionCounts {
  /** Hairs over fields in which hairs were counted. */
  readonly hairs?: FieldCounts;
  readonly thin?: { readonly part: number; readonly of: number };
  readonly vellus?: FieldCounts;
  readonly singleUnits?: { readonly part: number; readonly of: number };
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
        ? { part: thin.sums.thin, of: thin.sums.hairs }
        : undefined,
    vellus: count("vellus"),
    singleUnits: units && { part: units.get(1) ?? 0, of: [...units.values()].reduce((a, b) => a + b, 0) },
    discoloured: count("discolouredOpenings"),
    yellowDots: count("yellowDots"),
    diameters: summarise(diametersUm),
    thinByDiameter:
      diametersUm.length > 0
        ? { part: diametersUm.filter((um) => um < 30).length, of: diametersUm.length }
        : undefined,
  });
}
