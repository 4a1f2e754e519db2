/** Hairs per cm² at a site: counts and areas of its fields are summed first. */
import { z } from "zod";
import { fieldAreaCm2 } from "../counting.js";
import { rateDraft } from "../drafts.js";
import { placedSites, sumFields } from "../fields.js";
import type { ScoreModule } from "../score.js";

export const hairDensity = {
  id: "hair-density",
  table: z.object({ caveat: z.string() }),
  take(visit) {
    const sites = placedSites(visit).filter(({ record }) => record.fields.length > 0);
    if (sites.length === 0) return [{ missing: "counted fields of view" }];
    return sites.map(({ site, siteIndex, record }) => {
      const counted = sumFields(record.fields, ["hairs"]);
      const diameter_mm = visit.scope.fieldDiameterMm;
      if (!counted) return { site, siteIndex, missing: "hairs counted in a field of view" };
      if (diameter_mm === undefined) return { site, siteIndex, missing: "field diameter in mm" };
      return {
        site,
        siteIndex,
        inputs: { hairs: counted.sums.hairs, fields: counted.fields, diameter_mm },
      };
    });
  },
  work({ hairs, fields, diameter_mm }, { caveat }) {
    return {
      measured: [
        {
          ...rateDraft(hairs, fieldAreaCm2(diameter_mm, fields), fields, {
            unit: "/cm²",
            ucum: "/cm2",
            places: 0,
          }),
          caveat,
        },
      ],
    };
  },
  examples: [
    {
      inputs: { hairs: 40, fields: 1, diameter_mm: 5 },
      gives: { "hair-density": "203.72", "hair-density.low": "145.54", "hair-density.high": "277.41" },
      from: "arithmetic",
    },
    {
      inputs: { hairs: 60, fields: 4, diameter_mm: 3 },
      gives: { "hair-density": "212.21", "hair-density.low": "161.94", "hair-density.high": "273.15" },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<{ hairs: number; fields: number; diameter_mm: number }, { caveat: string }>;
