/** When to get help: signs by how fast, each list with whom to call. */

import { fill } from "../base/text.js";
import { yearsBetween } from "../visit/calendar.js";
import type { FactsInput } from "./facts-input.js";
import { namedImpressions } from "./named.js";
import type { Chooser } from "./sentences.js";
import type { LetterFacts } from "./variables.js";

const MOST_SOON = 4;
/** From this age the handout speaks of thoughts of self-harm. Common practice, no source. */
const ASK_FROM = 12;

export function helpFacts(input: FactsInput, choose: Chooser): LetterFacts["help"] {
  const { words, knowledge, visit, clinic, interpretation } = input;
  const own = namedImpressions(visit)
    .flatMap((i) => knowledge.disorders[i.disorder]?.patient.help ?? [])
    .filter((sign) => choose.mayTell(sign));
  const isDistressed = interpretation.cautions.some((c) => c.id === "distress");
  const isOldEnough = yearsBetween(visit.patient.born, visit.date) >= ASK_FROM;
  const lines = clinic.emergency.map(({ label, number }) => `${label}: ${number}`);
  const call = {
    now: lines,
    "same day": [
      fill(lines.length > 0 ? words.help_call.same_day : words.help_call.us, { phone: clinic.phone }),
    ],
    soon: [fill(words.help_call.us, { phone: clinic.phone })],
  };
  return (["now", "same day", "soon"] as const).flatMap((fast) => {
    const signs = [
      ...new Set([
        ...own.filter((h) => h.how_fast === fast).map((h) => h.sign),
        ...(fast === "now" && isDistressed && isOldEnough ? choose.sentences(words.help_distress) : []),
        ...choose.sentences(words.help[fast] ?? []),
      ]),
    ];
    // Signs that cannot wait are never left out.
    const shown = fast === "soon" ? signs.slice(0, MOST_SOON) : signs;
    return shown.length > 0
      ? [
          {
            fast: words.how_fast[fast] ?? fast,
            call: call[fast],
            signs: shown.map((s) => s.replace(/\.$/u, "")),
          },
        ]
      : [];
  });
}
