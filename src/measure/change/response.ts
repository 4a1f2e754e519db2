/** Response between two visits by published thresholds: scalp loss in alopecia areata, activity of lichen planopilaris. */
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
const lppai = z.object({
  response: z.strictObject({
    source: z.string(),
    how: z.string(),
    relative_from: z.number(),
    relative_basis: z.string(),
    marked_above: z.number(),
    partial_from: z.number(),
  }),
});

/** Percent fall from the first value; negative for a rise, null when the first is 0. `percentFall(66.5, 20)` is 69.92. */
export function percentFall(before: number, after: number): number | null {
  return before === 0 ? null : (100 * (before - after)) / before;
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
  const activity = both("lppai");
  if (activity) made.push(lppaiResponse(activity.a, activity.b, knowledge));
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

function lppaiResponse(a: number, b: number, knowledge: Knowledge): Response {
  const { response: t } = lppai.parse(knowledge.scores.lppai);
  const fall = percentFall(a, b);
  const is = (met: (fall: number) => boolean) => (fall === null || a < t.relative_from ? null : met(fall));
  return {
    id: "lppai",
    before: a,
    after: b,
    percentFall: fall,
    thresholds: [
      {
        id: "lppai-marked",
        says: `marked improvement: a fall of more than ${t.marked_above} percent`,
        met: is((f) => f > t.marked_above),
      },
      {
        id: "lppai-partial",
        says: `partial improvement: a fall of ${t.partial_from} to ${t.marked_above} percent`,
        met: is((f) => f >= t.partial_from && f <= t.marked_above),
      },
      {
        id: "lppai-none",
        says: `no response: a fall of less than ${t.partial_from} percent`,
        met: is((f) => f < t.partial_from),
      },
    ],
    source: t.source,
    fromMemory: t.how === "memory",
  };
}
