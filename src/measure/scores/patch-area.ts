/** Area of a bald patch taken as an ellipse of its length and width. */
import { z } from "zod";
import { placedSites } from "../fields.js";
import type { ScoreModule } from "../score-module.js";

export const patchArea = {
  id: "patch-area",
  table: z.object({ caveat: z.string() }),
  collect(visit) {
    return placedSites(visit).flatMap(({ site, siteIndex, record }) =>
      record.patch
        ? [
            {
              site,
              siteIndex,
              inputs: { length_mm: record.patch.lengthMm, width_mm: record.patch.widthMm },
            },
          ]
        : [],
    );
  },
  compute: ({ length_mm, width_mm }, { caveat }) => ({
    measured: [{ value: ellipseCm2(length_mm, width_mm), unit: "cm²", ucum: "cm2", places: 1, caveat }],
  }),
  examples: [
    { inputs: { length_mm: 20, width_mm: 20 }, gives: { "patch-area": "3.1416" }, from: "arithmetic" },
    { inputs: { length_mm: 32, width_mm: 25 }, gives: { "patch-area": "6.283" }, from: "arithmetic" },
  ],
} satisfies ScoreModule<{ length_mm: number; width_mm: number }, { caveat: string }>;

/** Area in cm² of an ellipse given in mm. */
export function ellipseCm2(lengthMm: number, widthMm: number): number {
  return (Math.PI * lengthMm * widthMm) / 400;
}
