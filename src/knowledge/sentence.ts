/** A sentence that a document may print: what it tells, and when it is true of this patient. */
import { z } from "zod";
import type { FactId } from "../base/ids.js";
import { type Condition, conditionSchema } from "./condition.js";

const text = z.string().trim().min(1);

/**
 * What sentences tell, and where each must not stand: not beside another meaning in one document, and not while a
 * must-not-miss line is open that it would contradict. `once`: said a single time in a document, however often it is true.
 */
export const MEANINGS = {
  "cannot be passed on": {
    notBeside: ["can be passed on"],
    notWhileOpen: [
      "fungal-infection",
      "kerion",
      "syphilis",
      "syphilis-in-pregnancy",
      "zoster",
      "lice-infection",
    ],
  },
  "can be passed on": {},
  "hair can return": {
    notBeside: ["hair does not return"],
    notWhileOpen: ["scarring", "malignancy", "skin-cancer"],
  },
  "roots are alive": {
    notBeside: ["hair does not return"],
    notWhileOpen: ["scarring", "malignancy", "skin-cancer"],
  },
  "hair does not return": {},
  "keep taking the medicine": {
    planSettles: true,
    notWhileOpen: ["drug-cause", "drug-toxicity", "severe-drug-reaction", "unborn-harm", "finasteride-mood"],
  },
  "ask before stopping": {
    whileTaken: true,
    notWhileOpen: ["drug-toxicity", "severe-drug-reaction", "unborn-harm", "finasteride-mood"],
  },
  "nothing is wrong": { whileNoneOpen: true },
  "it is not cancer": { notWhileOpen: ["malignancy", "skin-cancer", "skin-lymphoma"] },
  "it stays in the skin": { notWhileOpen: ["lupus-beyond-skin"] },
  "it can be hard": { once: true },
  "fever needs help at once": {},
  "fever needs help the same day": { notBeside: ["fever needs help at once"] },
} as const satisfies Readonly<Record<string, MeaningRule>>;

interface MeaningRule {
  readonly notBeside?: readonly string[];
  readonly notWhileOpen?: readonly string[];
  /** A line that the plan answers no longer contradicts it; otherwise only a test, an answer or acceptance settles the line. */
  readonly planSettles?: true;
  /** Never said while any must-not-miss line is open. */
  readonly whileNoneOpen?: true;
  /** Never said where every medicine of the visit has ended. */
  readonly whileTaken?: true;
  readonly once?: true;
}

export type Meaning = keyof typeof MEANINGS;
export const meaningRule = (meaning: Meaning): MeaningRule => MEANINGS[meaning];
export const MEANING_IDS = Object.keys(MEANINGS) as [Meaning, ...Meaning[]];

export const OCCASIONS = ["first visit", "later visit", "next visit planned", "no visit planned"] as const;
export type Occasion = (typeof OCCASIONS)[number];

const circumstances = {
  tells: z.array(z.enum(MEANING_IDS)).default([]),
  /** Of the visit as recorded. */
  when: conditionSchema.optional(),
  on: z.enum(OCCASIONS).optional(),
  /** It speaks of medicines of these classes as of something still taken: left out where each that is told of has ended. */
  unless_ended: z.array(text).min(1).optional(),
};

export interface Circumstances {
  readonly tells: readonly Meaning[];
  readonly when?: Condition | undefined;
  readonly on?: Occasion | undefined;
  readonly unless_ended?: readonly FactId[] | undefined;
}
/** Words alone, or words with their circumstances. */
export type Sentence = string | ({ readonly says: string } & Circumstances);
/** A sign that calls for help, and how fast. */
export type Sign = { readonly sign: string; readonly how_fast: "now" | "same day" | "soon" } & Circumstances;

export const sentenceSchema: z.ZodType<Sentence> = z.union([
  text,
  z.strictObject({ says: text, ...circumstances }),
]);
export const signSchema: z.ZodType<Sign> = z.strictObject({
  sign: text,
  how_fast: z.enum(["now", "same day", "soon"]),
  ...circumstances,
});

export const wordsOf = (sentence: Sentence): string =>
  typeof sentence === "string" ? sentence : sentence.says;

export const circumstancesOf = (sentence: Sentence): Circumstances =>
  typeof sentence === "string" ? { tells: [] } : sentence;

/** The same sentence in other words, its circumstances kept. */
export const inOtherWords = (sentence: Sentence, words: string): Sentence =>
  typeof sentence === "string" ? words : { ...sentence, says: words };
