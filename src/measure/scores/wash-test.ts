/** Modified wash test: hairs shed in one wash after five days without shampoo, and the share of short ones. */
import { z } from "zod";
import { shareDraft } from "../drafts.js";
import { collectRecorded, type ScoreModule } from "../score-module.js";

const table = z.object({
  many_from: z.number(),
  short_from_percent: z.number(),
  results: z.strictObject({
    few_long: z.string(),
    few_short: z.string(),
    many_long: z.string(),
    many_short: z.string(),
  }),
  caveat: z.string(),
});

export const washTest = {
  id: "wash-test",
  table,
  collect: (visit) => collectRecorded(visit, "wash-test", ["total", "short"]),
  compute({ total, short }, { many_from, short_from_percent, results, caveat }) {
    if (total === 0) return { missing: [{ missing: "any shed hair" }] };
    if (short > total)
      return { missing: [{ missing: "a count of short hairs that fits among all hairs shed" }] };
    const isShort = (100 * short) / total >= short_from_percent;
    const band = results[`${total >= many_from ? "many" : "few"}_${isShort ? "short" : "long"}`];
    return {
      measured: [
        { ...shareDraft(short, total), band, caveat },
        {
          id: "wash-test-total",
          term: "Hairs shed in one wash",
          value: total,
          unit: "hairs",
          ucum: "{hairs}",
          n: total,
          places: 0,
          band,
          caveat,
        },
      ],
    };
  },
  examples: [
    {
      inputs: { total: 60, short: 12 },
      gives: { "wash-test": "20.0", "wash-test.band": "androgenetic alopecia", "wash-test-total": "60" },
      from: "arithmetic",
    },
    {
      inputs: { total: 200, short: 6 },
      gives: { "wash-test": "3.0", "wash-test.band": "chronic telogen effluvium", "wash-test-total": "200" },
      from: "arithmetic",
    },
    {
      inputs: { total: 100, short: 10 },
      gives: {
        "wash-test": "10.0",
        "wash-test.band": "both androgenetic alopecia and chronic telogen effluvium",
        "wash-test-total": "100",
      },
      from: "arithmetic; on both limits",
    },
    {
      inputs: { total: 40, short: 1 },
      gives: { "wash-test.band": "chronic telogen effluvium in remission", "wash-test-total": "40" },
      from: "the published table",
    },
  ],
} satisfies ScoreModule<{ total: number; short: number }, z.infer<typeof table>>;
