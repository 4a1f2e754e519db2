/** The shape of lessons.yaml: what cases met before add to the weights that studies give. */
import { z } from "zod";

/** Disorder -> natural-log units added to what the finding or fact weighs in it, before amount and share. */
const byDisorder = z.record(z.string(), z.number().min(-3).max(3));
const byState = z.record(
  z.string(),
  z.strictObject({ present: byDisorder.optional(), absent: byDisorder.optional() }),
);

export const lessonsSchema = z.strictObject({
  /** How many cases they were learned from. */
  cases: z.strictObject({ published: z.number().int().min(0), taught: z.number().int().min(0) }),
  findings: byState.default({}),
  facts: byState.default({}),
});

export type Lessons = z.infer<typeof lessonsSchema>;

/** For a knowledge folder that has none. */
export const NO_LESSONS: Lessons = { cases: { published: 0, taught: 0 }, findings: {}, facts: {} };
