/** What `check` says of safety: lines that stand open, questions that nobody asked, and facts read from words. */

import type { Problem } from "../base/problem.js";
import type { SAFETY_PROBLEMS } from "../base/problem-table.js";
import type { ReadFact } from "../visit/prose/read-prose.js";
import { forHome } from "./at-home.js";
import { mayAnswer } from "./cautions.js";
import { unlistedMedicine } from "./fact-states.js";
import type { Facts } from "./facts.js";
import type { Ground, Interpretation } from "./interpretation.js";

export interface Found {
  readonly id: keyof typeof SAFETY_PROBLEMS;
  readonly detail?: string;
  readonly path: string;
  readonly message: string;
  readonly severity?: Problem["severity"];
}

/** Problems and notes of a visit, in the order of the interpretation. */
export function safetyProblems(facts: Facts, interpretation: Interpretation): Found[] {
  return [
    ...openLineProblems(facts, interpretation),
    ...acceptedAtOnce(facts, interpretation),
    ...unasked(interpretation),
    ...fromWords(facts, interpretation),
    ...unlisted(facts),
    ...keptFromHome(facts),
  ];
}

function openLineProblems(facts: Facts, { mustNotMiss }: Interpretation): Found[] {
  return mustNotMiss.flatMap((m): Found[] => {
    if (m.closedBy && m.closedBy.kind !== "accepted") return [];
    const raised = m.raisedBy.map(inWords).slice(0, 3);
    const by = raised.length > 0 ? ` Raised by ${raised.join("; ")}.` : "";
    const may = mayAnswer(m.id, facts).map(
      (action) => ` Does “${action}” answer it? Then write answers: [${m.id}] beside it.`,
    );
    const message = `must not be missed (${m.id}, ${m.urgency}), and nothing closes it: ${m.why}${by}${may.join("")}`;
    return [{ id: "must-not-miss-open", detail: m.id, path: "plan", message }];
  });
}

/** The old way of accepting, without a line's name, still closes them; it says which, so that none passes unread. */
function acceptedAtOnce({ visit }: Facts, { mustNotMiss }: Interpretation): Found[] {
  const named = new Set(visit.accept.map((a) => a.id));
  if (!named.has("must-not-miss-open")) return [];
  const at = visit.accept.findIndex((a) => a.id === "must-not-miss-open");
  const closed = mustNotMiss.filter(
    (m) => m.closedBy?.kind === "accepted" && !named.has(`must-not-miss-open:${m.id}`),
  );
  if (closed.length === 0) return [];
  const lines = closed.map((m) => `${m.id} (${m.urgency})`).join(", ");
  const ids = closed.map((m) => `must-not-miss-open:${m.id}`).join(", ");
  const message = `must-not-miss-open without a name accepts ${closed.length === 1 ? "this line" : `these ${closed.length} lines at once`}: ${lines}. Write ${ids} in its place, each with its reason.`;
  return [{ id: "accepts-all-lines", path: `accept[${at}]`, message }];
}

function unasked({ askedFor }: Interpretation): Found[] {
  return askedFor.map(({ id, question, urgency, why }) => ({
    id: "flag-not-asked",
    detail: id,
    path: "asked",
    message: `not asked (${urgency} if yes): ${question} ${why}`,
    severity: "note",
  }));
}

function keptFromHome({ visit, knowledge }: Facts): Found[] {
  const told = forHome(visit, knowledge);
  const kept = [
    ...visit.plan.map((line, i) => ({
      is: !told.plan.includes(line),
      says: line.action,
      path: `plan[${i}].action`,
    })),
    ...visit.tests.map((test, i) => ({
      is: !told.tests.includes(test),
      says: test.name,
      path: `tests[${i}].name`,
    })),
  ];
  return kept.flatMap(({ is, says, path }): Found[] => {
    if (!is) return [];
    const message = `“${says}” stays out of the handout: others at home may read it. Tell it in person, or word it without the name.`;
    return [{ id: "kept-from-handout", path, message, severity: "note" }];
  });
}

function unlisted({ visit, knowledge }: Facts): Found[] {
  return visit.history.medicines.flatMap(({ name }, i): Found[] => {
    const nearest = unlistedMedicine(name, knowledge);
    if (!nearest) return [];
    const near = nearest.length > 0 ? ` The nearest name is ${nearest.join(" or ")}.` : "";
    const message = `${name} is in no list of ours, so nothing was concluded from it.${near}`;
    const path = `history.medicines[${i}]`;
    return [{ id: "medicine-not-listed", detail: name, path, message, severity: "note" }];
  });
}

/** One note for each fact that raised a line: a note for every word read would bury these. */
function fromWords(facts: Facts, { mustNotMiss }: Interpretation): Found[] {
  const raising = mustNotMiss.flatMap((m) => m.raisedBy.filter((g) => g.kind === "words"));
  const seen = new Set<string>();
  return readsOnce(facts, raising).flatMap((r): Found[] => {
    const fact = facts.knowledge.facts[r.fact];
    const place = fact && PLACE[fact.kind];
    if (!fact || !place || seen.has(fact.id)) return [];
    seen.add(fact.id);
    const open = r.state === "doubtful" ? ", left open" : "";
    const message = `read from your words: ${fact.term} (${r.where}, “${r.words}”${open}). Write it under ${place} to confirm, or deny it.`;
    return [{ id: "read-from-words", detail: r.fact, path: r.where, message, severity: "note" }];
  });
}

/** The readings behind grounds of words; a medicine told in its own list needs no confirming. */
function readsOnce(facts: Facts, raising: readonly Ground[]): readonly ReadFact[] {
  const keys = new Set(raising.map((g) => `${g.where}:${g.says}`));
  return facts.reads().filter((r) => {
    const term = facts.knowledge.facts[r.fact]?.term ?? "";
    return !r.where.startsWith("history.medicines") && keys.has(`${r.where}:${term}: “${r.words}”`);
  });
}

const PLACE: Readonly<Record<string, string>> = {
  "red flag": "asked",
  history: "asked",
  exposure: "history.exposures",
  pattern: "examination.pattern",
  sign: "signs",
  "medicine class": "history.medicines",
};

function inWords(ground: Ground): string {
  const where = ground.where ? ` (${ground.where})` : "";
  return ground.kind === "unasked" ? `${ground.says}: not asked` : `${ground.says}${where}`;
}
