/** All keys of the visit file in the order in which people write them. A new key is added here or in a table below. */
import { always, type Keys, type LeftOut, left, list, map, needed, prose, value } from "./key.js";
import { answers, examinationKeys, historyKeys } from "./keys/history.js";
import { neither, OWN_STORY } from "./keys/left-out.js";
import { ACCEPT_KEYS, EVENT_KEYS, PATIENT_KEYS, SIGNED_KEYS, sendTo } from "./keys/patient.js";
import { followUp, impressionKeys, planKeys, scores, tests } from "./keys/plan.js";
import { EXTENT_KEYS, pullTestKeys, scope, siteKeys } from "./keys/site.js";
import { number } from "./leaves.js";
import { NO_WORDS, type VisitWords } from "./visit-words.js";

/** The top of the file with the words of a knowledge folder. */
export function topKeys(words: VisitWords) {
  return {
    format: left(
      neither("version of the file format"),
      value(number(1, 1, { whole: true }), "Version of this format: 1."),
    ),
    visit: needed(map(EVENT_KEYS, "The visit itself."), "the visit"),
    patient: needed(map(PATIENT_KEYS, "The patient."), "the patient"),
    send_to: sendTo,
    asked: left(
      OWN_STORY,
      answers(
        words.asked,
        "Answers to the questions of the facts catalogue: yes or no. What is left out was not asked.",
      ),
    ),
    history: always(historyKeys(words), "What the patient told."),
    examination: always(
      examinationKeys(words),
      "What was seen beyond the dermoscope; what is left out was not examined.",
    ),
    pull_test: list(pullTestKeys(words), "Hair pull tests.", { most: 40, oneLine: "each" }),
    scope,
    sites: list(siteKeys(words), "The places looked at."),
    extent: map(
      EXTENT_KEYS,
      "Percent of hair lost in each of the four areas of the scalp; leave out what was not estimated.",
      { oneLine: true },
    ),
    scores: scores(words),
    tests,
    impression: list(impressionKeys(words), "The clinician's impression.", { most: 20 }),
    plan: list(planKeys(words), "Who does what."),
    follow_up: followUp,
    told: left({ handout: "the patient was told in person" }, prose("What the patient was told.")),
    accept: list(ACCEPT_KEYS, "Check messages the clinician has seen and accepted."),
    signed: map(SIGNED_KEYS, "The act of signing; changed content is no longer signed.", { oneLine: true }),
  };
}

export type TopKeys = ReturnType<typeof topKeys>;

/** The keys without the words of a knowledge folder: the same, for all but reading. */
export const KEYS: TopKeys = topKeys(NO_WORDS);

/** A key of the file that holds a value, as forms, lists and pages name it. */
export interface VisitKey {
  /** `history.hair_care`, `sites.patch.length_mm`. */
  readonly path: string;
  readonly says: string;
  /** True where a file without it is refused. */
  readonly needed: boolean;
  /** Why the letter or the handout leaves it out; a document that is not named prints it. */
  readonly leftOut: LeftOut;
}

/** Every key of the file that holds a value, in the order in which people write them. */
export const VISIT_KEYS: readonly VisitKey[] = keysBelow(KEYS, "");

function keysBelow(keys: Keys, at: string): VisitKey[] {
  return Object.entries(keys).flatMap(([name, key]) => {
    const path = at === "" ? name : `${at}.${name}`;
    if (key.keys) return keysBelow(key.keys, path);
    return [{ path, says: key.says, needed: key.mode === "needed", leftOut: key.leftOut ?? {} }];
  });
}
