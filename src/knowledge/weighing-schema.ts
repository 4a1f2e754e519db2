/** The shape of weighing.yaml: every factor and limit with which evidence is turned into weight. */
import { z } from "zod";
import { conditionSchema } from "./condition.js";

const text = z.string().trim().min(1);
const factor = z.number().min(0).max(2);
const share = z.number().min(0).max(1);

export const weighingSchema = z.strictObject({
  amounts: z.strictObject({
    single: factor,
    single_proves_little: factor,
    few: factor,
    several: factor,
    many: factor,
    throughout: factor,
    not_graded: factor,
  }),
  absence: share,
  sharpen: z.strictObject({
    findings: z.number().positive(),
    patterns: z.number().positive(),
    /** Power that is taken of each share inside a correlation group: 1 leaves it, 0.5 halves the damping in logarithms. */
    shares: share,
  }),
  facts: z.strictObject({
    elsewhere: z.strictObject({ percent: z.tuple([z.number(), z.number()]), basis: text }),
    from_words: share,
  }),
  frequency_limits: z.tuple([share, share]),
  pull_patients: z.number().min(0),
  context_limit: z.number().positive(),
  draws: z.strictObject({ rule: share, base: z.number().positive() }),
  healthy: z.strictObject({
    share,
    /** A healthy scalp compares when the leader explains the findings at most this much better, natural-log units. */
    within: z.number().positive(),
    /** From this share on a finding is common on healthy scalps. */
    common: share,
    amounts: z.strictObject({ single: share, few: share, several: share, many: share, throughout: share }),
    any_amount: z.array(text),
    complaint: conditionSchema,
  }),
  rows: z.strictObject({
    percent_patients: z.number().positive(),
    review_patients: z.number().positive(),
    word_patients: z.number().positive(),
    most_patients: z.number().positive(),
    memory: share,
    implied: share,
    mismatch: share,
    spread: share,
    spread_floor: share,
    default_patients: z.number().positive(),
  }),
  subgroups: z.array(
    z.strictObject({ word: text, axis: text, reads: z.literal("absence").optional(), when: conditionSchema }),
  ),
  places: z.array(z.strictObject({ site: text, regions: z.array(text).min(1) })),
  unexplained: z.strictObject({
    seldom: share,
    strong: z.number().positive(),
    several: z.int().min(1),
    pattern: z.number().positive(),
  }),
  pairs: z.strictObject({
    cost: z.number().min(0),
    apart: z.number().positive(),
    in_one_place: z.strictObject({ known: z.number().positive(), other: z.number().positive() }),
    known: z.array(
      z.strictObject({ of: z.tuple([text, text]), cost: z.number().min(0), says: text, source: text }),
    ),
  }),
  bands: z.strictObject({
    strongly: z.strictObject({
      odds: z.number().positive(),
      leads: share,
      carrier_weight: z.number().positive(),
    }),
    supported: z.strictObject({ odds: z.number().positive(), leads: share }),
    possible: z.strictObject({ share, share_with_grounds: share }),
    grounds: z.strictObject({ weight: z.number().min(0), ahead: z.number().min(0), typical: share }),
    listed: z.strictObject({ against: z.number().min(0), draws: z.number().min(0), least: z.number() }),
    scarring_behind: z.number().positive(),
    second_clearly: z.number().positive(),
    explains: z.number().positive(),
  }),
  effort: z.array(
    z.strictObject({ words: z.array(text).min(1), worth: share, wounds: z.boolean().default(false) }),
  ),
  lines: z.array(z.strictObject({ ids: z.array(text).min(1), fits: z.array(text) })),
  denial: z.strictObject({
    words: z.array(text).min(1),
    reach: z.int().min(1),
    breaks: z.array(text),
  }),
});

export type Weighing = z.infer<typeof weighingSchema>;
