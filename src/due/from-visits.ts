/** The visits of one person -> must-not-miss lines that stand open, questions that nobody asked, and a follow-up that did not come. */
import { daysAfter } from "../letter/when.js";
import { about } from "./about.js";
import type { SafetyLine } from "./extract.js";
import type { ReadVisit } from "./visits.js";
import type { WorkLine } from "./work-line.js";

/** Something raised at one visit and perhaps again at later ones. */
interface Raised<T> {
  readonly since: string;
  /** Where it was raised last: the visit to change. */
  readonly visit: ReadVisit;
  readonly last: T;
}

/**
 * What is raised along a chain and not closed at a later day, by key: it waits since it was first raised. Visits of one day close
 * nothing of each other.
 */
function standing<T>(
  chain: readonly ReadVisit[],
  raises: (visit: ReadVisit) => readonly (readonly [key: string, what: T])[],
  closes: (visit: ReadVisit) => readonly string[],
): Raised<T>[] {
  const open = new Map<string, Raised<T>>();
  for (const visit of chain) {
    const { date } = visit.extract.identity;
    for (const key of closes(visit)) {
      const before = open.get(key);
      if (before && before.visit.extract.identity.date < date) open.delete(key);
    }
    for (const [key, last] of raises(visit))
      open.set(key, { since: open.get(key)?.since ?? date, visit, last });
  }
  return [...open.values()];
}

/** One line for each must-not-miss line that no later visit closed. */
export function safetyLines(chain: readonly ReadVisit[]): WorkLine[] {
  const open = standing<SafetyLine>(
    chain,
    (v) => v.extract.lines.flatMap((line) => (line.open ? [[line.id, line] as const] : [])),
    (v) => v.extract.closes,
  );
  return open.map(({ since, visit, last: { id, urgency, who, why } }) =>
    about(visit, "must-not-miss", { since, urgency, who, detail: `${why} (${id})`, of: id }),
  );
}

/** One line for each red flag that a visit called for and that no later visit answers. */
export function unasked(chain: readonly ReadVisit[]): WorkLine[] {
  const open = standing(
    chain,
    (v) => v.extract.unasked.map((flag) => [flag.id, flag] as const),
    (v) => v.extract.answered,
  );
  return open.map(({ since, visit, last: { id, question, urgency } }) =>
    about(visit, "not-asked", { since, urgency, who: "the examining clinician", detail: question, of: id }),
  );
}

/** Accepting this id, in the visit or a later one, says that the patient is not awaited any more. */
const NOT_AWAITED = "follow-up-missed";

/** The last visit's follow-up, once its week is over: a follow-up in 12 weeks may come up to six days after the 84th. */
export function followUps(chain: readonly ReadVisit[], today: string): WorkLine[] {
  const last = chain.at(-1);
  if (!last) return [];
  const { followUpWeeks: weeks, identity } = last.extract;
  if (weeks === null || identity.accepts.includes(NOT_AWAITED)) return [];
  const by = daysAfter(identity.date, Math.round(weeks * 7) + 6);
  if (today <= by) return [];
  return [
    about(last, "follow-up-missed", { since: identity.date, by, detail: String(weeks), who: "the clinic" }),
  ];
}
