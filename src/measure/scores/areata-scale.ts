/** Overall severity of alopecia areata for clinical use: the class of scalp loss, raised one level by any modifier. */
import { z } from "zod";
import { recordedInputs, type ScoreModule } from "../score-module.js";
import { bandOf, wholeBands } from "../whole-bands.js";

const MODIFIERS = ["psychosocial", "brows_or_lashes", "poor_response", "pull_positive"] as const;
const table = z.object({
  levels: wholeBands,
  psychosocial_from: z.number(),
  weights: z.strictObject({ top: z.number(), back: z.number(), left: z.number(), right: z.number() }),
});
type Table = z.infer<typeof table>;
interface Inputs {
  readonly salt: number;
  /** Modifiers present; those not asked about are not counted, and only mild and moderate can rise. */
  readonly modifiers: number;
  readonly not_asked: number;
}

export const areataScale = {
  id: "areata-scale",
  table,
  collect(visit, t) {
    const recorded = recordedInputs(visit, "areata-scale");
    if (!recorded) return [];
    const salt = saltOf(visit.extent, t.weights);
    if (salt === undefined) return [{ missing: "percent of hair lost in top, back, left and right" }];
    const { psychosocial, brows_or_lashes = 0, poor_response = 0, pull_positive = 0 } = recorded;
    const distress = psychosocial !== undefined && psychosocial >= t.psychosocial_from ? 1 : 0;
    const modifiers = distress + [brows_or_lashes, poor_response, pull_positive].filter((m) => m > 0).length;
    const not_asked = MODIFIERS.filter((m) => recorded[m] === undefined).length;
    return [{ inputs: { salt, modifiers, not_asked } }];
  },
  compute({ salt, modifiers, not_asked }, { levels }) {
    const names = levels.map((b) => b.class);
    const base = names.indexOf(bandOf(salt, levels));
    const level = Math.min(names.length - 1, base + (modifiers > 0 ? 1 : 0));
    if (modifiers === 0 && not_asked > 0 && base < names.length - 1) {
      return { missing: [{ missing: `${not_asked} of the ${MODIFIERS.length} modifiers` }] };
    }
    return {
      measured: [
        {
          value: level + 1,
          unit: `of ${names.length}`,
          ucum: "{score}",
          places: 0,
          band: names[level] ?? "",
          caveat: `Scalp loss alone is ${names[base]}; ${modifiers === 0 ? "no modifier is" : `${modifiers} of ${MODIFIERS.length} modifiers ${modifiers === 1 ? "is" : "are"}`} present.`,
        },
      ],
    };
  },
  examples: [
    {
      inputs: { salt: 15, modifiers: 0, not_asked: 0 },
      gives: { "areata-scale": "1", "areata-scale.band": "mild" },
      from: "arithmetic",
    },
    {
      inputs: { salt: 15, modifiers: 1, not_asked: 0 },
      gives: { "areata-scale.band": "moderate" },
      from: "arithmetic",
    },
    {
      inputs: { salt: 30, modifiers: 2, not_asked: 0 },
      gives: { "areata-scale": "3", "areata-scale.band": "severe" },
      from: "arithmetic; one level only, however many modifiers",
    },
    {
      inputs: { salt: 60, modifiers: 1, not_asked: 0 },
      gives: { "areata-scale.band": "severe" },
      from: "arithmetic; severe is the top",
    },
    {
      inputs: { salt: 15, modifiers: 0, not_asked: 2 },
      gives: { "missing:areata-scale": true },
      from: "a modifier not asked about may raise it",
    },
  ],
} satisfies ScoreModule<Inputs, Table>;

function saltOf(
  extent: Readonly<Partial<Record<"top" | "back" | "left" | "right", number>>> | undefined,
  weights: Table["weights"],
): number | undefined {
  const { top, back, left, right } = extent ?? {};
  if (top === undefined || back === undefined || left === undefined || right === undefined) return undefined;
  return Number(
    (weights.top * top + weights.back * back + weights.left * left + weights.right * right).toFixed(6),
  );
}
