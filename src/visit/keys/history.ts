/** Keys of the history and of the examination without the dermoscope. */
import type { FactId } from "../../base/ids.js";
import { always, type Key, leaving, map, prose, shaped, texts, value } from "../key.js";
import { number, word, wordList } from "../leaves.js";
import { MEDICINE_KEYS, medicineList } from "../medicine-list.js";
import type { Answers, Medicine } from "../terms.js";
import type { VisitWords } from "../visit-words.js";
import { plainWords, type Vocabulary } from "../vocabulary.js";
import { type AnswerLine, yesNoMap } from "../yes-no-map.js";
import { OWN_STORY, TRADE } from "./left-out.js";

const BEGAN = plainWords("a word for the beginning", ["birth"], { birth: ["at birth", "congenital"] });
const ONSET = plainWords("a word for the onset", ["sudden", "gradual"]);
const COURSE = plainWords("a word for the course", ["spreading", "stable", "improving", "relapsing"]);
const SHEDDING = plainWords("a word for shedding", ["normal", "increased", "none"]);

const BEGAN_KEYS = leaving(OWN_STORY, {
  when: value(word(BEGAN), "birth, when it has been there since birth."),
  weeks_before: value(number(0, 5200, { unit: "weeks" }), "Weeks before the visit."),
  age_years: value(number(0, 120, { unit: "years" }), "Age at which it began, in years."),
});

const SYMPTOM_KEYS = leaving(OWN_STORY, {
  itch: value(number(0, 10), "0 (none) to 10 (worst)."),
  pain: value(number(0, 10), "0 (none) to 10 (worst)."),
  burning: value(number(0, 10), "0 (none) to 10 (worst)."),
});

export const historyKeys = (words: VisitWords) =>
  leaving(OWN_STORY, {
    began: map(BEGAN_KEYS, "When it began: one of the three keys.", { oneLine: true }),
    duration_weeks: value(number(0, 5200, { unit: "weeks" }), "How long it has lasted, in weeks."),
    onset: value(word(ONSET), "How it began."),
    course: value(word(COURSE), "How it has gone on."),
    shedding: value(word(SHEDDING), "How much hair falls."),
    symptoms: always(SYMPTOM_KEYS, "Symptoms as the patient scores them, each 0 to 10.", { oneLine: true }),
    family: texts("Disorders in the family."),
    past: texts("Past and present disorders."),
    medicines: medicines(),
    exposures: facts(words.exposures, "What the patient is or was exposed to."),
    allergies: texts("Allergies."),
    triggers: texts("What came before: illness, birth, diet, a new medicine."),
    hair_care: texts("Styles, heat, chemicals, extensions, head coverings."),
    contacts: texts("People or animals close by with a similar trouble."),
    notes: prose("Anything else of the history."),
  });

export const examinationKeys = (words: VisitWords) =>
  leaving(TRADE, {
    pattern: facts(words.patterns, "The shape of the loss, in one or more words of the catalogue."),
    signs: answers(
      words.signs,
      "Signs to the naked eye or to touch: yes, or no when looked for and not found. What is left out was not examined.",
    ),
    scalp: prose("The scalp to the naked eye."),
    eyebrows: prose("Eyebrows."),
    eyelashes: prose("Eyelashes."),
    nails: prose("Nails."),
    skin: prose("Skin elsewhere."),
    mouth: prose("Mouth."),
    lymph_nodes: prose("Lymph nodes."),
    body_hair: prose("Hair of the body."),
  });

function medicines(): Key<ReturnType<typeof medicineList>, readonly Medicine[], "given"> {
  return shaped(medicineList(), {
    says: "Medicines taken: each a name, or { name, since_weeks, stopped_weeks, for }.",
    mode: "given",
    keys: leaving(OWN_STORY, MEDICINE_KEYS),
    entries: true,
    oneLine: true,
    absent: () => [],
    toVisit: (read) => read as readonly Medicine[],
    toFile: (written) => (written as readonly Medicine[]).map(medicine),
  });
}

function medicine({ name, sinceWeeks, stoppedWeeks, for: why }: Medicine): unknown {
  const more = { since_weeks: sinceWeeks, stopped_weeks: stoppedWeeks, for: why };
  const said = Object.entries(more).filter(([, entry]) => entry !== undefined);
  return said.length === 0 ? name : { name, ...Object.fromEntries(said) };
}

type WordList<Id extends string> = ReturnType<typeof wordList<Id>>;

/** Facts of the catalogue that are there. */
const facts = (
  words: Vocabulary<FactId>,
  says: string,
): Key<WordList<FactId>, readonly FactId[], "optional"> => ({
  ...ids(words, says),
  toFile: (written, terms) => (written as readonly FactId[]).map(terms.fact),
});

/** Ids in a list; left out where there is none. */
export function ids<Id extends string>(
  words: Vocabulary<Id>,
  says: string,
): Key<WordList<Id>, readonly Id[], "optional"> {
  return shaped(wordList(words), {
    says,
    mode: "optional",
    oneLine: true,
    toVisit: (read) => ((read as readonly Id[]).length > 0 ? (read as readonly Id[]) : undefined),
    toFile: (written) => written,
  });
}

/** Facts of the catalogue, each there or not. */
export function answers(
  words: Vocabulary<FactId>,
  says: string,
): Key<ReturnType<typeof yesNoMap>, Answers, "optional"> {
  return shaped(yesNoMap(words), {
    says,
    mode: "optional",
    toVisit: (read) => {
      const lines = read as readonly AnswerLine[];
      return lines.length > 0 ? Object.fromEntries(lines.map(({ id, yes }) => [id, yes])) : undefined;
    },
    toFile: (written, terms) =>
      Object.fromEntries(
        Object.entries(written as Answers).map(([id, yes]) => [terms.fact(id), yes ? "yes" : "no"]),
      ),
  });
}
