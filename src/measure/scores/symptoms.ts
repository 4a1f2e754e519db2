/** Itch, pain and burning as the patient rated them from 0 to 10. */
import { z } from "zod";
import { withCapital } from "../../base/text.js";
import { pointsDraft } from "../drafts.js";
import type { ScoreModule } from "../score-module.js";

const NAMES = ["itch", "pain", "burning"] as const;
interface Inputs {
  readonly symptom: (typeof NAMES)[number];
  readonly rating: number;
}

export const symptoms = {
  id: "symptoms",
  table: z.object({}),
  collect(visit) {
    return NAMES.flatMap((symptom) => {
      const rating = visit.history.symptoms[symptom];
      return rating === undefined ? [] : [{ inputs: { symptom, rating } }];
    });
  },
  compute: ({ symptom, rating }) => ({
    measured: [
      {
        id: `symptom-${symptom}`,
        term: withCapital(symptom),
        ...pointsDraft(rating, "of 10", "{score}", 0),
      },
    ],
  }),
  examples: [{ inputs: { symptom: "itch", rating: 4 }, gives: { "symptom-itch": "4" }, from: "arithmetic" }],
} satisfies ScoreModule<Inputs>;
