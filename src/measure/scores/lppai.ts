/** Activity of lichen planopilaris from eight recorded items. The formula is from memory and says so wherever it is printed. */
import { z } from "zod";
import { pointsDraft } from "../drafts.js";
import { collectRecorded, type ScoreModule } from "../score-module.js";

const KEYS = [
  "pruritus",
  "pain",
  "burning",
  "scalp_erythema",
  "perifollicular_erythema",
  "perifollicular_scale",
  "pull_test",
  "spreading",
] as const;
type Inputs = Readonly<Record<(typeof KEYS)[number], number>>;
const table = z.object({
  pull_test_points: z.number(),
  spreading_points: z.number(),
  caveat: z.string(),
});

export const lppai = {
  id: "lppai",
  table,
  collect: (visit) => collectRecorded(visit, "lppai", KEYS),
  compute(i, { pull_test_points, spreading_points, caveat }) {
    const symptoms = (i.pruritus + i.pain + i.burning) / 3;
    const signs = (i.scalp_erythema + i.perifollicular_erythema + i.perifollicular_scale) / 3;
    const value = symptoms + signs + pull_test_points * i.pull_test + spreading_points * (i.spreading / 2);
    return { measured: [{ ...pointsDraft(value, "of 10", "{score}", 2), caveat }] };
  },
  examples: [
    {
      inputs: {
        pruritus: 3,
        pain: 3,
        burning: 3,
        scalp_erythema: 3,
        perifollicular_erythema: 3,
        perifollicular_scale: 3,
        pull_test: 1,
        spreading: 2,
      },
      gives: { lppai: "10.0" },
      from: "arithmetic; the maxima add to ten",
    },
    {
      inputs: {
        pruritus: 2,
        pain: 1,
        burning: 0,
        scalp_erythema: 1,
        perifollicular_erythema: 2,
        perifollicular_scale: 2,
        pull_test: 1,
        spreading: 1,
      },
      gives: { lppai: "5.9167" },
      from: "arithmetic",
    },
    {
      inputs: {
        pruritus: 2,
        pain: 1,
        burning: 1,
        scalp_erythema: 2,
        perifollicular_erythema: 3,
        perifollicular_scale: 2,
        pull_test: 0,
        spreading: 0,
      },
      gives: { lppai: "3.6667" },
      from: "arithmetic",
    },
    {
      inputs: {
        pruritus: 1,
        pain: 0,
        burning: 0,
        scalp_erythema: 1,
        perifollicular_erythema: 1,
        perifollicular_scale: 1,
        pull_test: 0,
        spreading: 0,
      },
      gives: { lppai: "1.3333" },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<Inputs, z.infer<typeof table>>;
