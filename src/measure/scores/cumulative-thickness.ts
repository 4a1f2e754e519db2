/** Summed shaft diameter over a cm²: density times mean diameter. */
import { z } from "zod";
import { fieldAreaCm2 } from "../counting.js";
import { placedSites, sumFields } from "../fields.js";
import { summarise } from "../means.js";
import type { ScoreModule, Taken } from "../score.js";

interface Inputs {
  readonly density: number;
  readonly mean_um: number;
}

export const cumulativeThickness = {
  id: "cumulative-thickness",
  table: z.object({}),
  take(visit) {
    const places: Taken<Inputs>[] = [];
    const diameter = visit.scope.fieldDiameterMm;
    for (const { site, siteIndex, record } of placedSites(visit)) {
      const counted = sumFields(record.fields, ["hairs"]);
      const summary = summarise(record.diametersUm);
      if (!counted || !summary || diameter === undefined) continue;
      const density = counted.sums.hairs / fieldAreaCm2(diameter, counted.fields);
      places.push({ site, siteIndex, inputs: { density, mean_um: summary.mean } });
    }
    return places;
  },
  work: ({ density, mean_um }) => ({
    measured: [{ value: (density * mean_um) / 1000, unit: "mm/cm²", ucum: "mm/cm2", places: 1 }],
  }),
  examples: [
    {
      inputs: { density: 200, mean_um: 60 },
      gives: { "cumulative-thickness": "12.0" },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<Inputs>;
