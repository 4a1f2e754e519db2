/** The plan, sorted by who must act: the reader first, since that is what a busy doctor looks for. */
import { foldWord } from "../base/nearest.js";
import type { PlanLine, Recipient, Visit } from "../visit/visit.js";
import { roleText } from "./people.js";
import type { LetterFacts } from "./variables.js";
import type { Words } from "./words.js";

export type Actions = LetterFacts["actions"];
type ActionFacts = Actions["reader"][number];

/** True when a plan line names the addressee by role or name. */
function isFor(line: PlanLine, recipient: Recipient | null): boolean {
  if (!recipient) return false;
  const who = foldWord(line.who);
  const role = foldWord(recipient.role);
  const alias = (w: string) => (w === "gp" ? "general practitioner" : w);
  return alias(who) === alias(role) || who === foldWord(recipient.name);
}

export function actionFacts(words: Words, visit: Visit, recipient: Recipient | null): Actions {
  const say = (table: Readonly<Record<string, string>>) => (line: PlanLine) => ({
    who: table[foldWord(line.who)] ?? line.who,
    action: line.action,
    when: line.when ?? "",
  });
  return {
    reader: visit.plan.filter((l) => isFor(l, recipient)).map(say(words.who)),
    others: visit.plan
      .filter((l) => !isFor(l, recipient))
      .map(say({ ...words.who, ...gpAsWritten(words, visit) })),
    forPatient: byPerson([...visit.plan].sort(patientFirst).map(say(words.who_patient))),
  };
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

function byPerson(lines: readonly ActionFacts[]): { who: string; actions: ActionFacts[] }[] {
  const people = [...new Set(lines.map((l) => l.who))];
  return people.map((who) => ({ who, actions: lines.filter((l) => l.who === who) }));
}
