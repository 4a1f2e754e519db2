/** What of a plan and of tests is for no eyes at home: it names a line that others must not read of. */
import type { Knowledge } from "../knowledge/schema.js";
import type { PlanLine, Test, Visit } from "../visit/visit.js";
import { clauses, namesAny, type Phrase, phraseOf } from "./clauses.js";

const phrases = new WeakMap<Knowledge, readonly Phrase[]>();

function privateWords(knowledge: Knowledge): readonly Phrase[] {
  const known = phrases.get(knowledge);
  if (known) return known;
  const made = Object.values(knowledge.cautions).flatMap((c) =>
    (c.must_not_miss?.private ?? []).map(phraseOf),
  );
  phrases.set(knowledge, made);
  return made;
}

/** True of a text that gives a private line away, denied or not. */
export function isPrivate(text: string, knowledge: Knowledge): boolean {
  return namesAny(clauses(text, knowledge.weighing.denial), privateWords(knowledge));
}

/** The plan and the tests as a paper may tell them that others at home read. */
export function forHome({ plan, tests }: Visit, knowledge: Knowledge): { plan: PlanLine[]; tests: Test[] } {
  const isTold = (text: string) => !isPrivate(text, knowledge);
  return {
    plan: plan.filter(({ action }) => isTold(action)),
    tests: tests.filter(({ name, result }) => isTold(`${name}. ${result ?? ""}`)),
  };
}
