/** Which recorded tests settle a must-not-miss line (the right test, of the right specimen, taken since the loss began, with a result), and which are under way. */
import { foldWord } from "../base/nearest.js";
import type { ClosingTest } from "../knowledge/facts-schema.js";
import { isSettled } from "../visit/awaited.js";
import { daysBetween } from "../visit/calendar.js";
import type { Visit } from "../visit/visit.js";
import { type Clause, clauses, mentionsAny, phraseOf } from "./clauses.js";
import type { Facts } from "./facts.js";

type Recorded = Visit["tests"][number];

/** Places in the visit's list of the tests that settle it. */
export function settledBy(ids: readonly string[], facts: Facts): readonly number[] {
  const kinds = ids.flatMap((id) => facts.knowledge.tests[id] ?? []);
  return facts.visit.tests.flatMap((test, i) =>
    isSettled(test) && kinds.some((kind) => isOf(kind, i, facts) && inTime(kind, test, facts.visit))
      ? [i]
      : [],
  );
}

/**
 * True where one of the tests is recorded, awaited or not, or a plan line that was not declined names it and puts nothing off: what is to
 * be thought of, asked about or done later is not under way.
 */
export function isArranged(ids: readonly string[], facts: Facts): boolean {
  const { denial } = facts.knowledge.weighing;
  const named = ids.flatMap((id) => facts.knowledge.tests[id]?.named ?? []).map(phraseOf);
  const putsOff = (line: readonly Clause[]) => line.some((c) => holdsAny(c, facts.knowledge.prose.puts_off));
  const planned = facts.visit.plan
    .filter((p) => !p.declined)
    .map((p) => clauses(p.action, denial))
    .filter((line) => !putsOff(line));
  return [...facts.tests().map((t) => t.name), ...planned].some((text) => mentionsAny(text, named, denial));
}

function isOf(kind: ClosingTest, at: number, facts: Facts): boolean {
  const { denial } = facts.knowledge.weighing;
  const test = facts.tests()[at];
  if (!test || !mentionsAny(test.name, kind.named.map(phraseOf), denial)) return false;
  if (ofSomebodyElse(test.name, facts)) return false;
  const says = (words: readonly string[]) => [...test.name, ...test.result].some((c) => holdsAny(c, words));
  return !says(kind.not_of) || says(kind.of);
}

/** `Partner's syphilis serology` says nothing of the patient. */
const ofSomebodyElse = (name: readonly Clause[], { knowledge }: Facts) => {
  const bare = name.map((clause) => clause.map((word) => word.replace(/['’]s?$/u, "")));
  return bare.some((clause) => holdsAny(clause, knowledge.prose.people));
};

/** Whether a word or a beginning stands in the clause, denied or not: `no hyphae in the nail` is of the nail. */
const holdsAny = (clause: Clause, words: readonly string[]) =>
  words.some((written) => {
    const phrase = phraseOf(foldWord(written));
    return clause.some((_, at) =>
      phrase.every(({ word, beginning }, i) => {
        const here = clause[at + i];
        return here !== undefined && (beginning ? here.startsWith(word) : here === word);
      }),
    );
  });

function inTime(kind: ClosingTest, { date, name, result }: Recorded, visit: Visit): boolean {
  if (!kind.since_onset) return true;
  const weeks = visit.history.durationWeeks ?? kind.old_weeks;
  if (date !== undefined) return daysBetween(date, visit.date) <= weeks * 7;
  // A year in the name or the result tells the time where no day does.
  const years = [...`${name} ${result ?? ""}`.matchAll(/\b(?:19|20)\d\d\b/gu)].map(([year]) => Number(year));
  const began = Number.parseInt(visit.date, 10) - Math.ceil(weeks / 52);
  return years.every((year) => year >= began);
}
