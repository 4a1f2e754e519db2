/** Scalp counted at a site: the area of its fields of view. */
import { z } from "zod";
import { countedAreaCm2, placedSites } from "../fields.js";
import type { ScoreModule } from "../score-module.js";
import { fieldAreaCm2 } from "../statistics/counting.js";

export const fieldArea = {
  id: "field-area",
  table: z.object({}),
  collect(visit) {
    return placedSites(visit)
      .filter(({ record }) => record.fields.length > 0)
      .map(({ site, siteIndex, record }) => {
        const area_cm2 = countedAreaCm2(visit, record.fields, []);
        return area_cm2 === undefined
          ? { site, siteIndex, missing: "field diameter in mm (magnification alone does not fix it)" }
          : { site, siteIndex, inputs: { area_cm2, fields: record.fields.length } };
      });
  },
  compute({ area_cm2, fields }) {
    const value = 100 * area_cm2;
    return { measured: [{ value, unit: "mm²", ucum: "mm2", n: fields, places: 1 }] };
  },
  examples: [
    {
      inputs: { area_cm2: fieldAreaCm2(5), fields: 1 },
      gives: { "field-area": "19.6350" },
      from: "arithmetic",
    },
    {
      inputs: { area_cm2: fieldAreaCm2(3, 4), fields: 4 },
      gives: { "field-area": "28.274" },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<{ area_cm2: number; fields: number }>;
