/** Hair over a cm² of scalp: summed shaft diameter, and summed shaft cross-section. */
import { z } from "zod";
import { countedAreaCm2, placedSites, sumFields } from "../fields.js";
import type { Collected, ScoreModule } from "../score-module.js";
import { logLimits, relativeVarianceOfMean, summarise } from "../statistics/means.js";

interface Inputs {
  readonly hairs: number;
  readonly area_cm2: number;
  readonly diameters_um: readonly number[];
}

export const cumulativeThickness = {
  id: "cumulative-thickness",
  table: z.object({ section_term: z.string() }),
  collect(visit) {
    const places: Collected<Inputs>[] = [];
    for (const { site, siteIndex, record } of placedSites(visit)) {
      const counted = sumFields(record.fields, ["hairs"]);
      const area_cm2 = countedAreaCm2(visit, record.fields, ["hairs"]);
      if (!counted || record.diametersUm.length === 0 || area_cm2 === undefined) continue;
      places.push({
        site,
        siteIndex,
        inputs: { hairs: counted.sums.hairs, area_cm2, diameters_um: record.diametersUm },
      });
    }
    return places;
  },
  compute({ hairs, area_cm2, diameters_um }, { section_term }) {
    const density = hairs / area_cm2;
    const over = (each: readonly number[]) => {
      const summary = summarise(each);
      const value = summary ? density * summary.mean : 0;
      const limits =
        summary && summary.n > 1 && hairs > 0
          ? logLimits(value, 1 / hairs + relativeVarianceOfMean(summary))
          : undefined;
      const n = Math.min(hairs, diameters_um.length);
      return { value, ...(limits ? { ...limits, method: "log limits, delta method" } : {}), n };
    };
    return {
      measured: [
        { ...over(diameters_um.map((um) => um / 1000)), unit: "mm/cm²", ucum: "mm/cm2", places: 1 },
        {
          id: "shaft-cross-section",
          term: section_term,
          // Squares are summed, since the section of a mean shaft is not the mean section.
          ...over(diameters_um.map((um) => (Math.PI * (um / 1000) ** 2) / 4)),
          unit: "mm²/cm²",
          ucum: "mm2/cm2",
          places: 2,
        },
      ],
    };
  },
  examples: [
    {
      inputs: { hairs: 200, area_cm2: 1, diameters_um: [60, 60] },
      gives: { "cumulative-thickness": "12.0", "shaft-cross-section": "0.5655" },
      from: "arithmetic",
    },
    {
      inputs: { hairs: 100, area_cm2: 1, diameters_um: [40, 80] },
      gives: { "cumulative-thickness": "6.0", "shaft-cross-section": "0.3142" },
      from: "arithmetic; squares are summed before the mean",
    },
  ],
} satisfies ScoreModule<Inputs, { section_term: string }>;
