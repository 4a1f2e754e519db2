/** Share of the scalp that the measured patches cover, on an assumed scalp area: a check on the recorded extent, no score. */
import { z } from "zod";
import type { Region, Visit } from "../../visit/visit.js";
import type { ScoreModule } from "../score-module.js";
import { ellipseCm2 } from "./patch-area.js";

export const AREAS = ["top", "back", "left", "right"] as const;
export type Area = (typeof AREAS)[number];

const weights = z.strictObject({ top: z.number(), back: z.number(), left: z.number(), right: z.number() });
const table = z.object({
  scalp_cm2: z.strictObject({ usual: z.number(), low: z.number(), high: z.number() }),
  weights,
  regions: z.record(z.string(), z.enum(AREAS)),
  caveat: z.string(),
});
type Table = z.infer<typeof table>;
type Inputs = Readonly<Record<Area, number>>;

export const extentFromPatches = {
  id: "extent-from-patches",
  table,
  collect(visit, { regions }) {
    const covered = patchesByArea(visit, regions);
    return covered ? [{ inputs: covered }] : [];
  },
  compute(covered, { scalp_cm2, weights: share, caveat }) {
    const draft = (cm2: number, part: number) => ({
      value: Math.min(100, (100 * cm2) / (part * scalp_cm2.usual)),
      low: Math.min(100, (100 * cm2) / (part * scalp_cm2.high)),
      high: Math.min(100, (100 * cm2) / (part * scalp_cm2.low)),
      unit: "%",
      ucum: "%",
      places: 1,
      method: `scalp area taken as ${scalp_cm2.usual}, from ${scalp_cm2.low} to ${scalp_cm2.high}, cm²`,
      caveat,
    });
    const all = AREAS.reduce((sum, a) => sum + covered[a], 0);
    return {
      measured: [
        draft(all, 1),
        ...AREAS.filter((a) => covered[a] > 0).map((a) => ({
          id: `extent-from-patches-${a}`,
          term: `Patches, share of the ${a === "top" || a === "back" ? a : `${a} side`}`,
          ...draft(covered[a], share[a]),
        })),
      ],
    };
  },
  examples: [
    {
      inputs: { top: 0, back: 0, left: 6.5, right: 0 },
      gives: { "extent-from-patches": "1.0", "extent-from-patches-left": "5.6" },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<Inputs, Table>;

/** Patch area in cm² by scalp area; undefined when no patch lies in one. */
export function patchesByArea(
  visit: Visit,
  regions: Readonly<Partial<Record<Region, Area>>>,
): Inputs | undefined {
  const covered = { top: 0, back: 0, left: 0, right: 0 };
  let any = false;
  for (const { site, patch } of visit.sites) {
    const area = regions[site];
    if (!patch || !area) continue;
    covered[area] += ellipseCm2(patch.lengthMm, patch.widthMm);
    any = true;
  }
  return any ? covered : undefined;
}
