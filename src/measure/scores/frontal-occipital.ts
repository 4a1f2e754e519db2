/** Ratios of frontal to occipital: density, vellus hairs, discoloured openings (counts), thin hairs and single units (shares), thickness. */
import { z } from "zod";
import { fewFieldsCaveat } from "../drafts.js";
import { countRatio, type RegionCounts, ratioOfShares, regionCounts } from "../front-and-back.js";
import type { MeasuredDraft, ScoreModule } from "../score-module.js";
import { logLimits, relativeVarianceOfMean } from "../statistics/means.js";
import { clumpingOf, spreadSchema } from "../statistics/spread.js";

const table = z.object({
  zero: z.string(),
  /** Of hairs; what stands alone has the same spread without clumps. */
  spread: spreadSchema,
  share_limits: z.strictObject({ method: z.string(), source: z.string() }),
});
interface Inputs {
  readonly frontal: RegionCounts;
  readonly occipital: RegionCounts;
}
type Missing = { readonly id: string; readonly term: string; readonly missing: string };

const COUNTS = [
  ["hairs", "Hairs per field"],
  ["vellus", "Vellus hairs per field"],
  ["discoloured", "Discoloured openings per field"],
] as const;
const SHARES = [
  ["thin", "Thin hairs"],
  ["singleUnits", "Single-hair units"],
] as const;
const IDS = {
  hairs: "ratio-density",
  vellus: "ratio-vellus",
  discoloured: "ratio-discoloured",
  thin: "ratio-thin",
  singleUnits: "ratio-single-units",
} as const;

export const frontalOccipital = {
  id: "frontal-occipital",
  table,
  collect(visit) {
    const frontal = regionCounts(visit, "frontal");
    const occipital = regionCounts(visit, "occipital");
    const any = (r: RegionCounts) => Object.values(r).some((v) => v !== undefined);
    if (!any(frontal)) return [];
    if (!any(occipital)) return [{ missing: "counts or diameters at the occipital site" }];
    return [{ inputs: { frontal, occipital } }];
  },
  compute({ frontal, occipital }, { zero, spread, share_limits }) {
    const measured: MeasuredDraft[] = [];
    const missing: Missing[] = [];
    const common = { unit: "to 1", ucum: "1", places: 2 };
    const { cv_percent } = spread;
    // Units counted on this scalp tell its clumping better than those of other people.
    const clumping =
      frontal.units && occipital.units ? clumpingOf(frontal.units, occipital.units) : spread.clumping;
    for (const [key, what] of COUNTS) {
      const [a, b] = [frontal[key], occipital[key]];
      if (!a || !b) continue;
      const id = IDS[key];
      const term = `${what}, frontal to occipital`;
      const r = countRatio(a, b, { clumping: key === "hairs" ? clumping : 1, cv_percent });
      if (!r) {
        missing.push({ id, term, missing: zero });
        continue;
      }
      measured.push({
        id,
        term,
        ...common,
        ...r,
        // Of the hairs and openings that are of a kind, spots hold more or less than chance gives them.
        ...(key === "hairs" ? {} : fewFieldsCaveat(a.each, b.each)),
        n: a.count + b.count,
      });
    }
    for (const [key, what] of SHARES) {
      const [a, b] = [frontal[key], occipital[key]];
      if (!a || !b) continue;
      const id = IDS[key];
      const term = `${what}, frontal to occipital`;
      const r = ratioOfShares(a, b, share_limits.method);
      if (!r) {
        missing.push({ id, term, missing: zero });
        continue;
      }
      measured.push({ id, term, ...common, ...r, source: share_limits.source, n: a.of + b.of });
    }
    if (frontal.diameters && occipital.diameters) {
      const [a, b] = [frontal.diameters, occipital.diameters];
      const value = a.mean / b.mean;
      const limits =
        a.n > 1 && b.n > 1 && logLimits(value, relativeVarianceOfMean(a) + relativeVarianceOfMean(b));
      measured.push({
        id: "ratio-thickness",
        term: "Mean shaft diameter, frontal to occipital",
        value,
        ...common,
        ...(limits ? { ...limits, method: "log limits, delta method" } : {}),
        n: a.n + b.n,
      });
    }
    return { measured, missing };
  },
  examples: [
    {
      inputs: {
        frontal: { hairs: { count: 60, fields: 2 } },
        occipital: { hairs: { count: 80, fields: 2 } },
      },
      gives: { "ratio-density": "0.75", "ratio-density.low": "0.4377", "ratio-density.high": "1.2726" },
      from: "arithmetic",
    },
    {
      inputs: {
        frontal: { vellus: { count: 3, fields: 2 } },
        occipital: { vellus: { count: 0, fields: 2 } },
      },
      gives: { "missing:ratio-vellus": true },
      from: "a ratio over zero has no value",
    },
  ],
} satisfies ScoreModule<Inputs, z.infer<typeof table>>;
