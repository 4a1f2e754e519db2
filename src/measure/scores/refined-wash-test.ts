/** Refined wash test: mean hairs shed in a daily wash over three days. */
import { z } from "zod";
import { rateDraft } from "../drafts.js";
import { collectRecorded, type ScoreModule } from "../score-module.js";

const DAYS = ["day_1", "day_2", "day_3"] as const;

export const refinedWashTest = {
  id: "refined-wash-test",
  table: z.object({ caveat: z.string() }),
  collect: (visit) => collectRecorded(visit, "refined-wash-test", DAYS),
  compute({ day_1, day_2, day_3 }, { caveat }) {
    return {
      measured: [
        {
          ...rateDraft(
            { count: day_1 + day_2 + day_3, exposure: 3, fields: 3, each: [day_1, day_2, day_3] },
            { unit: "hairs a day", ucum: "{hairs}/d", places: 1 },
          ),
          caveat,
        },
      ],
    };
  },
  examples: [
    {
      inputs: { day_1: 30, day_2: 24, day_3: 36 },
      gives: { "refined-wash-test": "30.0" },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<Readonly<Record<(typeof DAYS)[number], number>>, { caveat: string }>;
