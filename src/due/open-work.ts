/** The visits and the register of a clinic -> everything that waits, the most urgent and oldest first. It reads; changing a visit closes a line. */
import type { RegisterLine } from "../register/line.js";
import { about } from "./about.js";
import { actions, awaitedTests } from "./from-others.js";
import { fromRegister } from "./from-register.js";
import { followUps, safetyLines, unasked } from "./from-visits.js";
import { chainsOf, isRead, type WorkClinic, type WorkVisit } from "./visits.js";
import { inOrder, type WorkLine } from "./work-line.js";

/**
 * `visits` are those of one clinic. `register` holds the lines of its register, oldest first; null where none has begun, and then
 * nothing is said of what was made and sent. `today` is an ISO date; visits of a later day are for a later day to tell of.
 */
export function openWork(
  visits: readonly WorkVisit[],
  register: readonly RegisterLine[] | null,
  clinic: WorkClinic,
  today: string,
): WorkLine[] {
  const until = visits.filter((v) => (v.identity?.date ?? "") <= today);
  const chains = chainsOf(until.filter(isRead));
  return inOrder([
    ...until.flatMap((visit) => [...unreadable(visit, today), ...doubtful(visit), ...draft(visit)]),
    ...chains.flatMap((chain) => [
      ...safetyLines(chain),
      ...unasked(chain),
      ...awaitedTests(chain, clinic, today),
      ...followUps(chain, today),
      ...actions(chain, clinic, today),
    ]),
    ...(register ? fromRegister(until, register) : []),
  ]);
}

function unreadable(visit: WorkVisit, today: string): WorkLine[] {
  return visit.extract ? [] : [about(visit, "unreadable", { since: visit.identity?.date || today })];
}

function doubtful(visit: WorkVisit): WorkLine[] {
  return visit.doubts
    .slice(0, 1)
    .map((detail) => about(visit, "doubt", { since: visit.identity?.date ?? "", detail }));
}

function draft({ extract, ...visit }: WorkVisit): WorkLine[] {
  if (!extract || (extract.signed && !extract.changed)) return [];
  return [about(visit, extract.signed ? "changed" : "draft", { since: extract.identity.date })];
}
