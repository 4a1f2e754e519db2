/** Which disorders a handout names, and how: the plain name first, then what doctors call it. */

import type { Knowledge } from "../knowledge/schema.js";
import { heldImpressions } from "../visit/held.js";
import type { Impression, Visit } from "../visit/visit.js";
import { type Words, wordIn } from "./phrases.js";

/** Impressions the handout may name: the clinician may keep one back with `in_handout: no`. */
export function namedImpressions(visit: Pick<Visit, "impression">): Impression[] {
  const held = heldImpressions(visit);
  // With the first name kept back, a lesser one standing alone would mislead.
  if (held[0]?.inHandout === false) return [];
  return held.filter((i) => i.inHandout !== false).slice(0, 2);
}

/** `We think this is pattern hair loss. Doctors call it androgenetic alopecia.` */
export function namingSentence(...told: Parameters<typeof namingPieces>): string {
  return namingPieces(...told)
    .map(({ text }) => text)
    .join("");
}

/** The same in pieces, so that the names alone can stand out. */
export function namingPieces(
  words: Words,
  knowledge: Knowledge,
  impression: Impression,
  isFirst: boolean,
): { text: string; isName: boolean }[] {
  const told = knowledge.disorders[impression.disorder]?.patient;
  const { trade, plain } = namesOf(told?.name ?? impression.disorder);
  const sentences = told?.told ?? (isFirst ? words.certainty_patient : words.certainty_patient_also);
  const said = inPieces(wordIn(sentences, impression.certainty) ?? "", plain);
  return trade === plain ? said : [...said, ...inPieces(` ${words.doctors_call}`, trade)];
}

function inPieces(sentence: string, name: string): { text: string; isName: boolean }[] {
  return sentence
    .split(/(\{name\})/u)
    .filter((text) => text !== "")
    .map((text) => (text === "{name}" ? { text: name, isName: true } : { text, isName: false }));
}

/** `alopecia areata (patchy hair loss)` -> both names; a name without a bracket is both. */
function namesOf(name: string): { trade: string; plain: string } {
  const [, trade, plain] = /^(.*?) \((.*)\)$/u.exec(name) ?? [];
  return { trade: trade ?? name, plain: plain ?? name };
}
