/** The visits of one person -> results and answers that others owe: tests awaited, and actions asked of others. */
import { foldWord } from "../base/nearest.js";
import { daysAfter } from "../letter/when.js";
import { isAwaited, isResultOf, isSettled, type Sample } from "../visit/awaited.js";
import { about } from "./about.js";
import type { Asked } from "./extract.js";
import { laterThan, type ReadVisit, type WorkClinic } from "./visits.js";
import type { WorkLine } from "./work-line.js";

/** Days after which the clinic calls the result of a test late; the longest words that stand in its name decide. */
export function usualDays(test: string, lateAfter: WorkClinic["lateAfter"]): number | undefined {
  const name = ` ${foldWord(test)} `;
  const named = Object.entries(lateAfter).filter(([words]) => name.includes(` ${foldWord(words)} `));
  return named.sort(([a], [b]) => b.length - a.length)[0]?.[1];
}

/** One line for each test that waits, since its first sample; late only where the clinic says after how long. */
export function awaitedTests(chain: readonly ReadVisit[], clinic: WorkClinic, today: string): WorkLine[] {
  const open = new Map<string, { since: string; sample: Sample; visit: ReadVisit }>();
  for (const visit of chain) {
    const { identity, tests } = visit.extract;
    for (const [name, before] of open) {
      const isLater = before.visit.extract.identity.date < identity.date;
      const isClosed =
        tests.some((test) => isResultOf(test, before.sample)) || identity.accepts.includes("test-awaited");
      if (isLater && isClosed) open.delete(name);
    }
    for (const sample of tests.filter(isAwaited)) {
      const name = foldWord(sample.name);
      const before = open.get(name);
      if (before) open.set(name, { ...before, visit });
      else if (!identity.accepts.includes("test-awaited"))
        open.set(name, { since: sample.date ?? identity.date, sample, visit });
    }
  }
  return [...open.values()].map(({ since, sample, visit }) => {
    const usual = usualDays(sample.name, clinic.lateAfter);
    const by = usual === undefined ? null : daysAfter(since, usual);
    const due = by !== null && today > by;
    return about(visit, "test-awaited", { since, by, due, detail: sample.name });
  });
}

/** What others were asked to do, until a later visit holds the result, or comes when it was due. */
export function actions(chain: readonly ReadVisit[], clinic: WorkClinic, today: string): WorkLine[] {
  const ours = new Set(
    Object.entries(clinic.people).flatMap(([key, { name, role }]) => [key, name, role].map(foldWord)),
  );
  return chain.flatMap((visit) => {
    const later = laterThan(visit, chain);
    const isAccepted = [visit, ...later].some((v) =>
      v.extract.identity.accepts.includes("action-unanswered"),
    );
    if (isAccepted) return [];
    return visit.extract.asks
      .filter((ask) => !ours.has(foldWord(ask.who)) && !isAnswered(ask, later))
      .map(({ who, action, by, urgency }) =>
        about(visit, "action-unanswered", {
          since: visit.extract.identity.date,
          by: by ?? null,
          urgency: urgency ?? null,
          due: by === undefined ? urgency !== undefined : today > by,
          who,
          detail: action,
        }),
      );
  });
}

/**
 * A test of a later visit whose name stands in the words of the action is its result. A later visit also ends it: on or after its
 * day where it has one, for then somebody saw that it was not done; otherwise any.
 */
function isAnswered({ action, by }: Asked, later: readonly ReadVisit[]): boolean {
  const words = ` ${foldWord(action).replace(/[^\p{L}\p{N}]+/gu, " ")} `;
  return later.some(({ extract }) => {
    const told = extract.tests.some(
      (t) =>
        isSettled(t) &&
        words.includes(` ${foldWord(t.resultOf ?? t.name).replace(/[^\p{L}\p{N}]+/gu, " ")} `),
    );
    return told || by === undefined || extract.identity.date >= by;
  });
}
