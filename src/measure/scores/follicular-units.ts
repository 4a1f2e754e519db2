/** Hairs in each follicular unit, and the share of units with one hair only. */
import { z } from "zod";
import { meanDraft, shareDraft } from "../drafts.js";
import { placedSites, singleUnits, sumUnits } from "../fields.js";
import type { ScoreModule } from "../score-module.js";
import { summarise } from "../statistics/means.js";
import type { PartOf } from "../statistics/proportions.js";

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
              inputs: { units: Object.fromEntries(units), single: record.fields.map(singleUnits) },
            }
          : { site, siteIndex, missing: "follicular units counted by hairs in each" };
      });
  },
  compute({ units, single }, table) {
    const each = Object.entries(units).flatMap(([hairs, count]) => Array<number>(count).fill(Number(hairs)));
    const summary = summarise(each);
    if (!summary) return { missing: [{ missing: "follicular units" }] };
    return {
      measured: [
        {
          id: "hairs-per-unit",
          ...meanDraft(summary, { unit: "per unit", ucum: "{hairs}/{unit}", places: 2 }),
        },
        {
          id: "single-unit-share",
          term: table.single_term,
          source: table.single_source,
          ...shareDraft(
            units["1"] ?? 0,
            each.length,
            single?.filter(({ of }) => of > 0),
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
  { units: Readonly<Record<string, number>>; single?: readonly PartOf[] },
  { single_term: string; single_source: string }
>;
