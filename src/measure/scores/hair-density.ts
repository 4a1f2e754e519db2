/** Hairs per cm² at a site: counts and areas of its fields are summed first. */
import { z } from "zod";
import { rateDraft } from "../drafts.js";
import { countedAreaCm2, placedSites, sumFields, sumUnits } from "../fields.js";
import type { ScoreModule } from "../score-module.js";
import { fieldAreaCm2 } from "../statistics/counting.js";
import { clumpingOf, spreadSchema } from "../statistics/spread.js";

interface Inputs {
  readonly hairs: number;
  readonly fields: number;
  readonly area_cm2: number;
  readonly each?: readonly number[];
  readonly units?: Readonly<Record<string, number>>;
}

const table = z.object({ caveat: z.string(), spread: spreadSchema });

export const hairDensity = {
  id: "hair-density",
  table,
  collect(visit) {
    const sites = placedSites(visit).filter(({ record }) => record.fields.length > 0);
    if (sites.length === 0) return [{ missing: "counted fields of view" }];
    return sites.map(({ site, siteIndex, record }) => {
      const counted = sumFields(record.fields, ["hairs"]);
      if (!counted) return { site, siteIndex, missing: "hairs counted in a field of view" };
      const area_cm2 = countedAreaCm2(visit, record.fields, ["hairs"]);
      if (area_cm2 === undefined) return { site, siteIndex, missing: "field diameter in mm" };
      const units = sumUnits(record.fields);
      return {
        site,
        siteIndex,
        inputs: {
          hairs: counted.sums.hairs,
          fields: counted.fields,
          area_cm2,
          each: counted.each.hairs,
          ...(units ? { units: Object.fromEntries(units) } : {}),
        },
      };
    });
  },
  compute({ hairs, fields, area_cm2, each, units }, { caveat, spread: { clumping, cv_percent } }) {
    // Units counted on this scalp tell its clumping better than those of other people.
    const published = { clumping: units ? clumpingOf(units) : clumping, cv_percent };
    return {
      measured: [
        {
          ...rateDraft(
            {
              count: hairs,
              exposure: area_cm2,
              fields,
              published,
              ...(each ? { each } : {}),
            },
            { unit: "/cm²", ucum: "/cm2", places: 0 },
          ),
          caveat,
        },
      ],
    };
  },
  examples: [
    {
      inputs: { hairs: 40, fields: 1, area_cm2: fieldAreaCm2(5) },
      gives: { "hair-density": "203.72", "hair-density.low": "120.15", "hair-density.high": "325.26" },
      from: "arithmetic",
    },
    {
      inputs: { hairs: 60, fields: 4, area_cm2: fieldAreaCm2(3, 4), each: [12, 19, 14, 15] },
      gives: { "hair-density": "212.21", "hair-density.low": "153.78", "hair-density.high": "286.00" },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<Inputs, z.infer<typeof table>>;
