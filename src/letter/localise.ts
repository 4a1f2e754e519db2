/** What was worked out from a visit, with its texts in the language and the spelling of a pack. */
import type { Interpretation } from "../interpret/interpretation.js";
import type { Knowledge } from "../knowledge/schema.js";
import { inLanguage, withChangedTexts } from "../knowledge/translate.js";
import type { Measures } from "../measure/types.js";
import type { Pack } from "./pack.js";
import { respell, respellAll, type Spelling } from "./spelling.js";

/** Where interpretation and measures hold sentences of ours; ids and what a clinician wrote stand elsewhere. */
const OUR_SENTENCES = ["says", "why", "stage", "limits", "basis", "caveat"];

export interface WorkedOut {
  readonly knowledge: Knowledge;
  readonly measures: Measures;
  readonly interpretation: Interpretation;
}

const respelled = new WeakMap<Spelling, WeakMap<Knowledge, Knowledge>>();

/** Pure but for its memory: one knowledge is translated and respelled once. */
export function localise(pack: Pack, { knowledge, measures, interpretation }: WorkedOut): WorkedOut {
  const { spelling } = pack.words;
  return {
    knowledge: printedKnowledge(pack, knowledge),
    measures: respellAll(spelling, measures, OUR_SENTENCES),
    interpretation: respellAll(spelling, interpretation, OUR_SENTENCES),
  };
}

/** The knowledge with the texts a pack's documents print. */
export function printedKnowledge(pack: Pack, knowledge: Knowledge): Knowledge {
  const translated = inLanguage(knowledge, pack.language);
  const { spelling } = pack.words;
  if (!spelling) return translated;
  const known = respelled.get(spelling) ?? new WeakMap<Knowledge, Knowledge>();
  respelled.set(spelling, known);
  const before = known.get(translated);
  if (before) return before;
  const result = withChangedTexts(translated, (text) => respell(spelling, text));
  known.set(translated, result);
  return result;
}
