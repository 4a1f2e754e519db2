/** Response between two visits by published thresholds: scalp loss in alopecia areata. */
import { z } from "zod";
import type { Knowledge } from "../../knowledge/schema.js";
import type { Measures } from "../types.js";
import type { Response } from "./types.js";

const salt = z.object({
  response: z.strictObject({
    source: z.string(),
    how: z.string(),
    relative: z.array(z.number()),
    relative_from: z.number(),
    relative_basis: z.string(),
    at_most: z.number(),
    from_at_least: z.number(),
  }),
});
/**
 * Percent fall from the first value; negative for a rise, null when the first is 0. `percentFall(66.5, 20)` is 69.92. Nine tenths
 * less than 10.02 is 1.002, but binary arithmetic makes it a speck less: nothing finer than a millionth is meant.
 */
export function percentFall(before: number, after: number): number | null {
  return before === 0 ? null : Number(((100 * (before - after)) / before).toFixed(6));
}

/** Responses of the scores that both visits have. A share of a small score is chance: below `relative_from` it is not judged. */
export function responses(before: Measures, after: Measures, knowledge: Knowledge): Response[] {
  const both = (id: string) => {
    const [a, b] = [before, after].map((m) => m.measured.find((x) => x.id === id)?.value);
    return a === undefined || b === undefined ? undefined : { a, b };
  };
  const made: Response[] = [];
  const scalp = both("salt-score");
  if (scalp) made.push(saltResponse(scalp.a, scalp.b, knowledge));
  return made;
}

function saltResponse(a: number, b: number, knowledge: Knowledge): Response {
  const { response: t } = salt.parse(knowledge.scores["salt-score"]);
  const fall = percentFall(a, b);
  return {
    id: "salt-score",
    before: a,
    after: b,
    percentFall: fall,
    thresholds: [
      ...t.relative.map((percent) => ({
        id: `salt-${percent}`,
        says: `scalp loss at least ${percent} percent less than at the start`,
        met: fall === null || a < t.relative_from ? null : fall >= percent,
      })),
      {
        id: `salt-at-most-${t.at_most}`,
        says: `scalp loss of ${t.at_most} percent or less after ${t.from_at_least} percent or more`,
        met: a >= t.from_at_least ? b <= t.at_most : null,
      },
    ],
    source: t.source,
    fromMemory: t.how === "memory",
  };
}
