/**
 * The shape of told.yaml: words that, together in a sentence, tell a red flag in whatever way it is put; and words by which a passage that
 * names one sounds as if it spoke of one, or of none.
 */
import { z } from "zod";

/** Weight -> words without their endings, parted by spaces. */
const byWeight = z.record(z.string().regex(/^-?\d+(?:\.\d+)?$/u), z.string());

const told = z.strictObject({
  /** A sentence whose words weigh as much together is taken to tell it. */
  from: z.number(),
  /** A clue in a sentence whose words weigh less than this is taken to speak of something else. */
  least: z.number(),
  words: byWeight,
});

const manner = z.strictObject({
  /** What a passage of none of the words weighs. */
  base: z.number(),
  /** A passage that weighs less than this sounds harmless: where hours count, and otherwise. */
  urgent: z.number(),
  other: z.number(),
  /** Two words in a row stand joined by an underscore. */
  words: byWeight,
});

export const toldSchema = z.strictObject({
  /** Of the lines it was learned from (tests/prose/told). */
  lines: z.strictObject({
    told: z.number().int(),
    near: z.number().int(),
    ordinary: z.number().int(),
    digest: z.string(),
  }),
  facts: z.record(z.string(), told),
  manner: manner.optional(),
});

export type Told = z.infer<typeof toldSchema>;

/** For a knowledge folder that has none. */
export const NO_TOLD: Told = { lines: { told: 0, near: 0, ordinary: 0, digest: "" }, facts: {} };
