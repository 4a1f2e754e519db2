/** Scalp counted at a site: the area of its fields of view. */
import { z } from "zod";
import { placedSites } from "../fields.js";
import type { ScoreModule } from "../score-module.js";
import { fieldAreaCm2 } from "../statistics/counting.js";

export const fieldArea = {
  id: "field-area",
  table: z.object({}),
  collect(visit) {
    return placedSites(visit)
      .filter(({ record }) => record.fields.length > 0)
      .map(({ site, siteIndex, record }) => {
        const diameter_mm = visit.scope.fieldDiameterMm;
        return diameter_mm === undefined
          ? { site, siteIndex, missing: "field diameter in mm (magnification alone does not fix it)" }
          : { site, siteIndex, inputs: { diameter_mm, fields: record.fields.length } };
      });
  },
  compute({ diameter_mm, fields }) {
    const value = 100 * fieldAreaCm2(diameter_mm, fields);
    return { measured: [{ value, unit: "mm²", ucum: "mm2", n: fields, places: 1 }] };
  },
  examples: [
    { inputs: { diameter_mm: 5, fields: 1 }, gives: { "field-area": "19.6350" }, from: "arithmetic" },
    { inputs: { diameter_mm: 3, fields: 4 }, gives: { "field-area": "28.274" }, from: "arithmetic" },
  ],
} satisfies ScoreModule<{ diameter_mm: number; fields: number }>;
