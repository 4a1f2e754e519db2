/** The day of the visit and the moment of signing are two facts; a later edition says what it replaces. */

import { fill } from "../base/text.js";
import type { Visit } from "../visit/visit.js";
import type { LetterFacts } from "./variables.js";
import { asSentence, clockTime, type Words, writeDate } from "./words.js";

/** `replaces` is the day of the letter that this one replaces, where the caller knows it. */
export function signingFacts(
  words: Words,
  visit: Visit,
  replaces: string | undefined,
): Omit<LetterFacts["letter"], "large"> {
  const act = visit.status === "signed" ? visit.signed : undefined;
  const day = act?.at.slice(0, 10);
  return {
    date: day ?? visit.date,
    signed: visit.status === "signed",
    draft: visit.status === "draft",
    signedAt: act ? fill(words.signed_at, { date: writeDate(words, act.at), time: clockTime(act.at) }) : "",
    replaces: (act?.edition ?? 1) > 1 ? replacing(words, replaces, act?.reason) : "",
  };
}

function replacing(words: Words, day: string | undefined, reason: string | undefined): string {
  const said = day ? fill(words.replaces, { date: writeDate(words, day) }) : words.replaces_earlier;
  return [said, ...(reason ? [asSentence(reason)] : [])].join(" ");
}
