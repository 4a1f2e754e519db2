/** The plan, sorted by who must act and how soon: the reader first, since that is what a busy doctor looks for. */
import { foldWord } from "../base/nearest.js";
import type { PlanLine, Recipient, Visit } from "../visit/visit.js";
import { roleText } from "./people.js";
import { type Words, wordIn } from "./phrases.js";
import { isFor } from "./recipients.js";
import type { LetterFacts } from "./variables.js";
import { LAST_TURN, leadOf, turnOf } from "./when.js";

export type Actions = LetterFacts["actions"];
type ActionFacts = Actions["reader"][number];

/** A line says how soon in the clinician's own words alone: how urgent the engine holds what it answers is for the clinician. */
export function actionFacts(words: Words, visit: Visit, recipient: Recipient | null): Actions {
  const plan = inOrder(visit);
  const patient = wordIn(words.patient_by_sex, foldWord(visit.patient.sex)) ?? words.who.patient;
  const named = patient === undefined ? words.who : { ...words.who, patient };
  const say = (table: Readonly<Record<string, string>>) => (line: PlanLine) => ({
    who: wordIn(table, foldWord(line.who)) ?? roleText(words, line.who),
    lead: leadOf(words, line, visit.date),
    action: line.action,
    declined: line.declined === true,
  });
  return {
    reader: plan.filter((l) => isFor(l, recipient)).map(say(named)),
    others: byPerson(
      plan.filter((l) => !isFor(l, recipient)).map(say({ ...named, ...gpAsWritten(words, visit) })),
    ),
    forPatient: byPerson(patientFirst(plan).map(say(words.who_patient))),
  };
}

/** Words that point at the line written before. */
const POINTS_BACK =
  /(?<!\p{L})(?:(?:until|till|by|before|after|from) then|bis dahin|danach|hasta entonces|para entonces|después de eso)(?!\p{L})/iu;

const pointsBack = ({ action }: PlanLine) => POINTS_BACK.test(action);

/** What cannot wait first, then by day; otherwise as written. A line without a time that points back stays with what it points at. */
function inOrder({ plan, date }: Visit): PlanLine[] {
  const turns: string[] = [];
  for (const line of plan) {
    const own = turnOf(line, date);
    turns.push((pointsBack(line) && own === LAST_TURN && turns.at(-1)) || own);
  }
  const order = plan.map((line, i) => ({ line, turn: turns[i] ?? LAST_TURN }));
  return order.sort((a, b) => (a.turn < b.turn ? -1 : a.turn > b.turn ? 1 : 0)).map(({ line }) => line);
}

/** In a copy to someone else, the family doctor is not "you". */
function gpAsWritten(words: Words, visit: Visit): Record<string, string> {
  const gp = visit.sendTo.find((r) => /general practitioner|^gp$/iu.test(r.role));
  const said = gp?.name ?? roleText(words, "general practitioner");
  return { gp: said, "general practitioner": said };
}

/** The patient's own lines first, unless they open with one that would then point at nothing. */
function patientFirst(plan: readonly PlanLine[]): PlanLine[] {
  const own = plan.filter((l) => foldWord(l.who) === "patient");
  return own[0] && pointsBack(own[0]) ? [...plan] : [...own, ...plan.filter((l) => !own.includes(l))];
}

function byPerson(lines: readonly ActionFacts[]): Actions["forPatient"] {
  const people = [...new Set(lines.map((l) => l.who))];
  return people.map((who) => ({ who, actions: lines.filter((l) => l.who === who) }));
}
