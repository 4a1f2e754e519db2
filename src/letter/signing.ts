/** The day of the visit and the moment of signing are two facts; a later edition says what it replaces. */

import { fill } from "../base/text.js";
import type { Signed, Visit } from "../visit/visit.js";
import { asSentence, clockTime, type Words, writeDate } from "./phrases.js";
import type { LetterFacts } from "./variables.js";

/** `replaces` is the day of the letter that this one replaces, where the caller knows it; null when its reader never had one. */
export function signingFacts(
  words: Words,
  visit: Visit,
  replaces: string | null | undefined,
): Omit<LetterFacts["letter"], "large"> {
  const act = actOf(visit);
  return {
    date: letterDay(visit),
    signed: visit.status === "signed",
    draft: visit.status === "draft",
    signedAt: act ? fill(words.signed_at, { date: writeDate(words, act.at), time: clockTime(act.at) }) : "",
    replaces: (act?.edition ?? 1) > 1 && replaces !== null ? replacing(words, replaces, act?.reason) : "",
  };
}

/** The day that a letter gives as its own: that of the signature, or of the visit where nobody signed it by an act. */
export function letterDay(visit: Visit): string {
  return actOf(visit)?.at.slice(0, 10) ?? visit.date;
}

const actOf = (visit: Visit): Signed | undefined => (visit.status === "signed" ? visit.signed : undefined);

function replacing(words: Words, day: string | undefined, reason: string | undefined): string {
  const said = day ? fill(words.replaces, { date: writeDate(words, day) }) : words.replaces_earlier;
  return [said, ...(reason ? [asSentence(reason)] : [])].join(" ");
}
