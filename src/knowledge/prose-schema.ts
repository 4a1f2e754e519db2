/** The shape of prose.yaml: the words by which the reader of free text knows denial, doubt, time and other people. */
import { z } from "zod";

const words = z.array(z.string().trim().min(1));

export const proseSchema = z.strictObject({
  /** How many words a scope may run, forwards and backwards. */
  reach: z.strictObject({ before: z.int().min(1), after: z.int().min(1) }),
  denies_what_follows: words,
  denies_next_word: words,
  denies_what_stands_before: words,
  denies_nothing: words,
  leaves_open_what_follows: words,
  leaves_open_what_stands_before: words,
  only_spoken_of: words,
  only_spoken_of_before: words,
  /** Of a medicine: spoken of before it is taken. */
  not_yet_taken: words,
  /** After a medicine: it was spoken of, and not taken. */
  not_taken_before: words,
  /** Say that a medicine spoken of was taken after all. */
  taken_since: words,
  /** Words of a plan that name a medicine only to keep it away. */
  keeps_a_medicine_away: words,
  /** Words of a plan line that put off, or only speak of, what it names. */
  puts_off: words,
  /** Before and after the name of a medicine: it is put on the skin or into the eye. */
  on_the_skin: z.strictObject({ before: words, after: words }),
  past: words,
  present: words,
  ends_scope: words,
  /** Say that a medicine named among past disorders is taken no more. */
  medicine_ended: words,
  medicine_over: words,
  medicine_not_over: words,
  people: words,
  people_may_follow: words,
  people_stand_after: words,
  people_go_on: words,
  says_of_the_patient: words,
  /** Phrases that speak of something else than their words do; what they name tells of nothing. */
  set_phrases: words,
  /** A sentence that names a thing and no part of the body tells of no sign or flag of the body; the mind's flags are the exception. */
  elsewhere: z.strictObject({ things: words, body: words, except: words }),
  fillers: words,
  true_words: words,
  /** Ideas that phrases of the facts name as `<idea>`, each with its wordings. */
  ideas: z.record(z.string().regex(/^[a-z_]+$/u), words).default({}),
});

export type Prose = Readonly<z.infer<typeof proseSchema>>;

/** Numbers of phrases by what words are looked up by, without one of which they stand nowhere; "" for those without such a word. */
export type PhraseIndex = Readonly<Record<string, readonly number[]>>;

/** What the reader of free text works out from the knowledge alone; the build keeps it, so that a start need not. */
export interface ProseIndex {
  /** By the name of a list of phrases. */
  readonly lists: Readonly<Record<string, PhraseIndex>>;
  /** Words, and beginnings of words, that a slip may stand for, by first letter, parted by spaces; beginnings end in `*`. */
  readonly spellings: Readonly<Record<string, string>>;
  /** Stems and words that are no slip, parted by spaces. */
  readonly known: string;
  /** What words told.yaml weighs, by word. */
  readonly told: string;
}
