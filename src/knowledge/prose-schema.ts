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
  past: words,
  present: words,
  ends_scope: words,
  people: words,
  people_may_follow: words,
  people_stand_after: words,
  says_of_the_patient: words,
  fillers: words,
  true_words: words,
  /** Ideas that phrases of the facts name as `<idea>`, each with its wordings. */
  ideas: z.record(z.string().regex(/^[a-z_]+$/u), words).default({}),
});

export type Prose = Readonly<z.infer<typeof proseSchema>>;
