/** Counts of one kind of hair and of all hairs, per site, where both were counted and agree. */
import type { Visit } from "../visit/visit.js";
import { partsOf, placedSites, sumFields } from "./fields.js";
import type { Collected } from "./score-module.js";
import type { PartOf } from "./statistics/proportions.js";

/** `part` hairs of the kind among `of` hairs, over the fields where both were counted. */
export function collectShareOfHairs(
  visit: Visit,
  kind: "thin" | "vellus",
): readonly Collected<PartOf & { each: readonly PartOf[] }>[] {
  return placedSites(visit)
    .filter(({ record }) => record.fields.length > 0)
    .map(({ site, siteIndex, record }) => {
      const counted = sumFields(record.fields, ["hairs", kind]);
      if (!counted) return { site, siteIndex, missing: `${kind} hairs and all hairs counted in one field` };
      const { hairs, [kind]: part } = counted.sums;
      if (hairs === 0) return { site, siteIndex, missing: "any hair in the counted fields" };
      if (part > hairs)
        return { site, siteIndex, missing: `a count of ${kind} hairs that fits among all hairs` };
      return {
        site,
        siteIndex,
        inputs: { part, of: hairs, each: partsOf(counted.each[kind], counted.each.hairs) },
      };
    });
}
