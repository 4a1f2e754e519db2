/** Whether a visit tells that medicines have ended, by the list of medicines or in its own words. */
import { medicineClasses, prosePieces, saysNone } from "../interpret/fact-states.js";
import type { Facts } from "../interpret/facts.js";

/**
 * True where medicines of these classes (all, when left out) are told of, and each has ended. The list of medicines outranks words, and
 * where nothing is told of them they may well go on.
 */
export function haveEnded(facts: Facts, classes?: readonly string[]): boolean {
  const { visit, knowledge } = facts;
  const isMeant = (id: string) =>
    classes ? classes.includes(id) : knowledge.facts[id]?.kind === "medicine class";
  const listed = visit.history.medicines
    .filter(({ name }) => !saysNone(name) && (!classes || medicineClasses(name, knowledge).some(isMeant)))
    .map(({ name, stoppedWeeks }) => stoppedWeeks !== undefined || tellsAnEnd(name, facts));
  if (listed.length > 0) return listed.every(Boolean);
  const pieces = new Map(prosePieces(visit).map(({ where, text }) => [where, text]));
  const told = facts
    .reads()
    .filter((read) => isMeant(read.fact) && ["present", "doubtful", "past"].includes(read.state))
    .map(
      ({ state, where, words }) =>
        state === "past" || tellsAnEnd(sentenceWith(words, pieces.get(where) ?? ""), facts),
    );
  return told.length > 0 && told.every(Boolean);
}

function sentenceWith(words: string, text: string): string {
  return text.split(/(?<=[.;!?])\s/u).find((sentence) => sentence.includes(words)) ?? text;
}

/** How many words before may say that the end has not come. */
const REACH = 3;

function tellsAnEnd(text: string, { knowledge }: Facts): boolean {
  const words = ` ${text
    .toLowerCase()
    .split(/[^\p{L}\p{N}]+/u)
    .join(" ")} `;
  const { medicine_over: over, medicine_not_over: notOver } = knowledge.prose;
  return over.some((phrase) => {
    const at = words.indexOf(` ${phrase} `);
    const before = words.slice(0, Math.max(at, 0)).trim().split(" ").slice(-REACH);
    return at >= 0 && !before.some((word) => notOver.includes(word));
  });
}
