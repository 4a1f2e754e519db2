/** Keys of tests, of what the clinician makes of it all, and of what happens next. */
import type { DisorderId } from "../../base/ids.js";
import { type Key, leaving, left, line, list, map, name, needed, sentence, shaped, value } from "../key.js";
import { date, number, text, word, yesNo } from "../leaves.js";
import { type ScoreLine, scoresMap } from "../scores-map.js";
import { CERTAINTIES, URGENCIES } from "../terms.js";
import type { VisitWords } from "../visit-words.js";
import { plainWords } from "../vocabulary.js";
import { ids } from "./history.js";
import { neither, TRADE } from "./left-out.js";

const CERTAINTY = plainWords("a certainty", CERTAINTIES);
const URGENCY = plainWords("a word for urgency", URGENCIES, {
  now: ["at once", "immediately"],
  "same day": ["today"],
  days: ["within days"],
});

const RANGE_KEYS = {
  low: value(number(-1e9, 1e9), "Lower end, in the unit of the figure."),
  high: value(number(-1e9, 1e9), "Upper end, in the unit of the figure."),
};

export const TEST_KEYS = {
  name: needed(name("What was tested."), "the name of the test"),
  value: value(number(-1e9, 1e9), "A figure, in the unit given."),
  unit: left(
    neither("a unit prints beside its figure, and not without one"),
    value(text(40), "Unit of the figure, such as ug/L."),
  ),
  result: line("A result in words, or awaited."),
  date: value(date(), "Day the sample was taken, year-month-day."),
  result_of: left(
    neither("ties a result to the awaited test that it answers"),
    name("Name of the awaited test of an earlier visit that this answers, where the names differ."),
  ),
  range: map(RANGE_KEYS, "The laboratory's own range; leave out an end that is open.", { oneLine: true }),
};

export const impressionKeys = (words: VisitWords) =>
  leaving(TRADE, {
    disorder: left(
      { handout: "the handout gives the plain name of the first two, unless a name is kept back" },
      needed(disorder(words), "the disorder"),
    ),
    certainty: left(
      { handout: "the handout says how sure in plain words" },
      needed(value(word(CERTAINTY), "definite, probable, possible, or excluded."), "the certainty"),
    ),
    note: sentence("A sentence about it."),
    because: ids(words.findings, "Findings it rests on, as the letter shall say."),
    in_handout: left(
      neither("keeps a name out of the handout"),
      value(yesNo(), "no keeps this name out of the handout, to be talked over in person."),
    ),
  });

export const planKeys = (words: VisitWords) => ({
  who: needed(name("Who does it: general practitioner, patient, clinic, and so on."), "who does it"),
  action: needed(sentence("What is to be done, as a sentence."), "what is to be done"),
  when: name("By when, in words."),
  by: value(date(), "The day by which it is to be done, year-month-day."),
  urgency: value(word(URGENCY), "How soon: now, same day, days, soon."),
  answers: left(
    neither("ties the line to what must not be missed"),
    ids(words.hazards, "Ids of the must-not-miss lines that this answers."),
  ),
  declined: value(yesNo(), "yes where it was offered and the patient declined."),
});

const FOLLOW_UP_KEYS = {
  weeks: needed(
    value(number(0, 1000, { unit: "weeks" }), "Weeks until the next visit."),
    "the number of weeks",
  ),
};

export const followUp = map(FOLLOW_UP_KEYS, "The next visit.", { oneLine: true });
export const tests = list(TEST_KEYS, "Tests done or awaited.", { oneLine: "each" });

function disorder(words: VisitWords): Key<ReturnType<typeof word<DisorderId>>, DisorderId, "optional"> {
  return shaped(word(words.disorders), {
    says: "A disorder.",
    mode: "optional",
    toVisit: (read) => read as DisorderId,
    toFile: (written, terms) => terms.disorder(written as DisorderId),
  });
}

type Scores = Readonly<Record<string, Readonly<Record<string, number>>>>;

export function scores(words: VisitWords): Key<ReturnType<typeof scoresMap>, Scores, "given"> {
  return shaped(scoresMap(words), {
    says: "Inputs of named scores.",
    leftOut: TRADE,
    mode: "given",
    absent: () => ({}),
    toVisit: (read) =>
      Object.fromEntries((read as readonly ScoreLine[]).map(({ score, inputs }) => [score, { ...inputs }])),
    toFile: (written) => (Object.keys(written as Scores).length > 0 ? written : undefined),
  });
}
