/** Hairs that came out of a pulled bundle: their share, and what the traditional and the revised rule make of it. */
import { z } from "zod";
import type { Visit } from "../../visit/visit.js";
import { shareDraft } from "../drafts.js";
import type { Collected, RuleDraft, ScoreModule } from "../score-module.js";

const table = z.object({
  traditional_above_share: z.number(),
  revised_above_hairs: z.number(),
  bundle: z.tuple([z.number(), z.number()]),
  limits: z.string(),
  anagen_term: z.string(),
});
type Table = z.infer<typeof table>;
interface Inputs {
  readonly pulled: number;
  readonly came_out: number;
  readonly anagen?: number;
}

export const hairPull = {
  id: "hair-pull",
  table,
  collect(visit: Visit) {
    return visit.pullTest.map(({ site, pulled, cameOut, anagen }): Collected<Inputs> => {
      if (pulled < 1) return { site, missing: "number of hairs pulled" };
      if (cameOut > pulled) return { site, missing: "a count of hairs that fits in the bundle" };
      const roots = anagen === undefined || anagen > cameOut ? {} : { anagen };
      return { site, inputs: { pulled, came_out: cameOut, ...roots } };
    });
  },
  compute({ pulled, came_out, anagen }, t) {
    const share = came_out / pulled;
    const [low, high] = t.bundle;
    const outside =
      pulled < low || pulled > high
        ? ` This bundle of ${pulled} lies outside the ${low} to ${high} of the rules.`
        : "";
    const rule = (id: string, term: string, met: boolean, says: string, worked: string): RuleDraft => ({
      id,
      term,
      met,
      criteria: [{ id: "hairs", says, met, kind: "single", worked }],
      says: `${met ? "Positive" : "Negative"} by the ${term.replace("Hair pull, ", "")}.`,
      limits: `${t.limits}${outside}`,
    });
    return {
      measured: [
        { ...shareDraft(came_out, pulled), ...(outside ? { caveat: outside.trim() } : {}) },
        ...(anagen !== undefined && came_out > 0
          ? [{ id: "hair-pull-anagen", term: t.anagen_term, ...shareDraft(anagen, came_out) }]
          : []),
      ],
      rules: [
        rule(
          "hair-pull-traditional",
          "Hair pull, traditional rule",
          share > t.traditional_above_share,
          `more than ${100 * t.traditional_above_share} % of the hairs pulled`,
          `${came_out} of ${pulled} is ${(100 * share).toFixed(1)} %`,
        ),
        rule(
          "hair-pull-revised",
          "Hair pull, revised rule of 2017",
          came_out > t.revised_above_hairs,
          `more than ${t.revised_above_hairs} hairs`,
          `${came_out} ${came_out === 1 ? "hair" : "hairs"}`,
        ),
      ],
    };
  },
  examples: [
    {
      inputs: { pulled: 50, came_out: 6 },
      gives: { "hair-pull": "12.0", "rule:hair-pull-traditional": true, "rule:hair-pull-revised": true },
      from: "arithmetic",
    },
    {
      inputs: { pulled: 50, came_out: 5 },
      gives: { "hair-pull": "10.0", "rule:hair-pull-traditional": false, "rule:hair-pull-revised": true },
      from: "arithmetic; a tenth exactly is not more than a tenth",
    },
    {
      inputs: { pulled: 60, came_out: 3 },
      gives: { "hair-pull": "5.0", "rule:hair-pull-traditional": false, "rule:hair-pull-revised": true },
      from: "arithmetic",
    },
    {
      inputs: { pulled: 15, came_out: 2 },
      gives: { "hair-pull": "13.3", "rule:hair-pull-traditional": true, "rule:hair-pull-revised": false },
      from: "arithmetic; a small bundle",
    },
  ],
} satisfies ScoreModule<Inputs, Table>;
