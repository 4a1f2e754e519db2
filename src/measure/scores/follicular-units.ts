/** Hairs in each follicular unit, and the share of units with one hair only. */
import { z } from "zod";
import { meanDraft, shareDraft } from "../drafts.js";
import { placedSites, sumUnits, type UnitsOfField, unitsOfField } from "../fields.js";
import type { ScoreModule } from "../score-module.js";
import { summarise } from "../statistics/means.js";

export const follicularUnits = {
  id: "follicular-units",
  table: z.object({ single_term: z.string(), single_source: z.string() }),
  collect(visit) {
    return placedSites(visit)
      .filter(({ record }) => record.fields.length > 0)
      .map(({ site, siteIndex, record }) => {
        const units = sumUnits(record.fields);
        return units
          ? {
              site,
              siteIndex,
              inputs: { units: Object.fromEntries(units), each: record.fields.map(unitsOfField) },
            }
          : { site, siteIndex, missing: "follicular units counted by hairs in each" };
      });
  },
  compute({ units, each }, table) {
    const sizes = Object.entries(units).flatMap(([hairs, count]) => Array<number>(count).fill(Number(hairs)));
    const summary = summarise(sizes);
    if (!summary) return { missing: [{ missing: "follicular units" }] };
    const fields = each?.filter(({ units: of }) => of > 0);
    return {
      measured: [
        {
          id: "hairs-per-unit",
          ...meanDraft(
            summary,
            { unit: "per unit", ucum: "{hairs}/{unit}", places: 2 },
            fields?.map(({ hairs, units: of }) => ({ part: hairs, of })),
          ),
        },
        {
          id: "single-unit-share",
          term: table.single_term,
          source: table.single_source,
          ...shareDraft(
            units["1"] ?? 0,
            sizes.length,
            fields?.map(({ single, units: of }) => ({ part: single, of })),
          ),
        },
      ],
    };
  },
  examples: [
    {
      inputs: { units: { "1": 20, "2": 50, "3": 30 } },
      gives: { "hairs-per-unit": "2.10", "single-unit-share": "20.0" },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<
  { units: Readonly<Record<string, number>>; each?: readonly UnitsOfField[] },
  { single_term: string; single_source: string }
>;
