/** The plan, sorted by who must act and how soon: the reader first, since that is what a busy doctor looks for. */
import { foldWord } from "../base/nearest.js";
import type { PlanLine, Recipient, Visit } from "../visit/visit.js";
import { roleText } from "./people.js";
import { type Words, wordIn } from "./phrases.js";
import { isFor } from "./recipients.js";
import type { LetterFacts } from "./variables.js";
import { leadOf, turnOf } from "./when.js";

export type Actions = LetterFacts["actions"];
type ActionFacts = Actions["reader"][number];

/** A line says how soon in the clinician's own words alone: how urgent the engine holds what it answers is for the clinician. */
export function actionFacts(words: Words, visit: Visit, recipient: Recipient | null): Actions {
  const plan = inOrder(visit);
  const say = (table: Readonly<Record<string, string>>) => (line: PlanLine) => ({
    who: wordIn(table, foldWord(line.who)) ?? line.who,
    lead: leadOf(words, line, visit.date),
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

/** What cannot wait first, then by day; otherwise as written. */
function inOrder(visit: Visit): PlanLine[] {
  const turn = (line: PlanLine) => turnOf(line, visit.date);
  return [...visit.plan].sort((a, b) => (turn(a) < turn(b) ? -1 : turn(a) > turn(b) ? 1 : 0));
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
