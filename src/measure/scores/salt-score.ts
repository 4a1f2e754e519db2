/** Scalp hair loss from the four areas, with its class by two published schemes. */
import { z } from "zod";
import { pointsDraft } from "../drafts.js";
import type { ScoreModule } from "../score-module.js";
import { bandOf, wholeBands } from "../whole-bands.js";
import { AREAS, type Area } from "./extent-from-patches.js";

const table = z.object({
  weights: z.strictObject({ top: z.number(), back: z.number(), left: z.number(), right: z.number() }),
  aa_iga: wholeBands,
  s_class: wholeBands,
  disorder: z.string(),
  caveat: z.string(),
});
type Table = z.infer<typeof table>;
type Inputs = Readonly<Record<Area, number>>;

export const saltScore = {
  id: "salt-score",
  table,
  collect(visit, { disorder }) {
    const extent = visit.extent;
    if (!extent) {
      const concerns = visit.impression.some((i) => i.disorder === disorder && i.certainty !== "excluded");
      return concerns ? [{ missing: "percent of hair lost in top, back, left and right" }] : [];
    }
    const { top, back, left, right } = extent;
    if (top === undefined || back === undefined || left === undefined || right === undefined) {
      const lacking = AREAS.filter((a) => extent[a] === undefined);
      return [{ missing: `percent of hair lost in ${lacking.join(", ")}` }];
    }
    return [{ inputs: { top, back, left, right } }];
  },
  compute(areas, { weights, aa_iga, s_class, caveat }) {
    // Products of decimals carry specks in binary (0.18 x 20); nothing finer than a millionth is meant.
    const value = Number(AREAS.reduce((sum, a) => sum + weights[a] * areas[a], 0).toFixed(6));
    const band = `${bandOf(value, aa_iga)} (AA-IGA); ${bandOf(value, s_class)} (older class)`;
    return { measured: [{ ...pointsDraft(value, "%", "%", 1), band, caveat }] };
  },
  examples: [
    {
      inputs: { top: 0, back: 0, left: 0, right: 20 },
      gives: { "salt-score": "3.6", "salt-score.band": "limited (AA-IGA); S1 (older class)" },
      from: "medical education page on alopecia areata: 20 percent times 0.18",
    },
    {
      inputs: { top: 95, back: 55, left: 40, right: 45 },
      gives: { "salt-score": "66.5", "salt-score.band": "severe (AA-IGA); S3 (older class)" },
      from: "recalled as the illustrated case of Olsen et al. 2004; the arithmetic agrees",
    },
    {
      inputs: { top: 50, back: 10, left: 20, right: 30 },
      gives: { "salt-score": "31.4" },
      from: "arithmetic",
    },
    {
      inputs: { top: 20, back: 0, left: 0, right: 0 },
      gives: { "salt-score": "8.0" },
      from: "arithmetic",
    },
    {
      inputs: { top: 100, back: 100, left: 100, right: 100 },
      gives: { "salt-score": "100.0", "salt-score.band": "very severe (AA-IGA); S5 (older class)" },
      from: "arithmetic",
    },
    {
      inputs: { top: 0, back: 0, left: 0, right: 0 },
      gives: { "salt-score": "0.0", "salt-score.band": "none (AA-IGA); S0 (older class)" },
      from: "arithmetic",
    },
    {
      inputs: { top: 1, back: 0, left: 0, right: 0 },
      gives: { "salt-score": "0.4", "salt-score.band": "limited (AA-IGA); S1 (older class)" },
      from: "the rounding rule: any loss is at least the first class of loss",
    },
    {
      inputs: { top: 99, back: 100, left: 100, right: 100 },
      gives: { "salt-score": "99.6", "salt-score.band": "very severe (AA-IGA); S4 (older class)" },
      from: "the rounding rule: only complete loss is the class of complete loss",
    },
    {
      inputs: { top: 51, back: 0, left: 0, right: 0 },
      gives: { "salt-score": "20.4", "salt-score.band": "limited (AA-IGA); S1 (older class)" },
      from: "the rounding rule: to the nearest whole percent",
    },
    {
      inputs: { top: 51.25, back: 0, left: 0, right: 0 },
      gives: { "salt-score": "20.5", "salt-score.band": "moderate (AA-IGA); S1 (older class)" },
      from: "the rounding rule: halves go up",
    },
  ],
} satisfies ScoreModule<Inputs, Table>;
