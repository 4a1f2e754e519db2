/** Sixty-second comb test: mean hairs shed on three mornings. A reference exists for men only. */
import { z } from "zod";
import { rateDraft } from "../drafts.js";
import { collectRecorded, type ScoreModule } from "../score-module.js";

const DAYS = ["day_1", "day_2", "day_3"] as const;

export const combTest = {
  id: "comb-test",
  table: z.object({ caveat: z.string() }),
  collect: (visit) => collectRecorded(visit, "comb-test", DAYS),
  compute({ day_1, day_2, day_3 }, { caveat }) {
    return {
      measured: [
        {
          ...rateDraft(
            { count: day_1 + day_2 + day_3, exposure: 3, fields: 3, each: [day_1, day_2, day_3] },
            { unit: "hairs", ucum: "{hairs}", places: 1 },
          ),
          caveat,
        },
      ],
    };
  },
  examples: [
    { inputs: { day_1: 12, day_2: 9, day_3: 9 }, gives: { "comb-test": "10.0" }, from: "arithmetic" },
  ],
} satisfies ScoreModule<Readonly<Record<(typeof DAYS)[number], number>>, { caveat: string }>;
