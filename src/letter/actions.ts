/** The plan, sorted by who must act and how soon: the reader first, since that is what a busy doctor looks for. */
import { foldWord } from "../base/nearest.js";
import type { PlanLine, Recipient, Urgency, Visit } from "../visit/visit.js";
import { roleText } from "./people.js";
import { type Words, wordIn } from "./phrases.js";
import { isFor } from "./recipients.js";
import type { LetterFacts } from "./variables.js";
import { dueDay, leadOf, urgencyRank } from "./when.js";

export type Actions = LetterFacts["actions"];
type ActionFacts = Actions["reader"][number];
/** A must-not-miss line, as far as the plan may answer it. */
interface Line {
  readonly id: string;
  readonly urgency?: Urgency;
}

export function actionFacts(
  words: Words,
  visit: Visit,
  recipient: Recipient | null,
  mustNotMiss: readonly Line[] = [],
): Actions {
  const plan = inOrder(visit, mustNotMiss);
  const say = (table: Readonly<Record<string, string>>) => (line: PlanLine) => ({
    who: wordIn(table, foldWord(line.who)) ?? line.who,
    lead: leadOf(words, line, visit.date, urgencyOf(line, mustNotMiss)),
    action: line.action,
    declined: line.declined === true,
  });
  return {
    reader: plan.filter((l) => isFor(l, recipient)).map(say(words.who)),
    others: byPerson(
      plan.filter((l) => !isFor(l, recipient)).map(say({ ...words.who, ...gpAsWritten(words, visit) })),
    ),
    forPatient: byPerson([...plan].sort(patientFirst).map(say(words.who_patient))),
  };
}

/** How soon a line is due: as recorded, else as soon as the most urgent must-not-miss line that it answers. */
function urgencyOf(line: PlanLine, mustNotMiss: readonly Line[]): Urgency | undefined {
  if (line.urgency) return line.urgency;
  return mustNotMiss
    .filter((m) => line.answers?.includes(m.id))
    .flatMap((m) => m.urgency ?? [])
    .sort((a, b) => urgencyRank(a) - urgencyRank(b))[0];
}

/** The most urgent first, then by day; otherwise as written. */
function inOrder(visit: Visit, mustNotMiss: readonly Line[]): PlanLine[] {
  const day = (line: PlanLine) => dueDay(line, visit.date) ?? "9999";
  const rank = (line: PlanLine) => urgencyRank(urgencyOf(line, mustNotMiss));
  return [...visit.plan].sort(
    (a, b) => rank(a) - rank(b) || (day(a) < day(b) ? -1 : day(a) > day(b) ? 1 : 0),
  );
}

/** In a copy to someone else, the family doctor is not "you". */
function gpAsWritten(words: Words, visit: Visit): Record<string, string> {
  const gp = visit.sendTo.find((r) => /general practitioner|^gp$/iu.test(r.role));
  const said = gp?.name ?? roleText(words, "general practitioner");
  return { gp: said, "general practitioner": said };
}

function patientFirst(a: PlanLine, b: PlanLine): number {
  const rank = (l: PlanLine) => (foldWord(l.who) === "patient" ? 0 : 1);
  return rank(a) - rank(b);
}

function byPerson(lines: readonly ActionFacts[]): Actions["forPatient"] {
  const people = [...new Set(lines.map((l) => l.who))];
  return people.map((who) => ({ who, actions: lines.filter((l) => l.who === who) }));
}
