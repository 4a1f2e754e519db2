/** Words a person may write in one place, each with what it means: case, hyphens, plural and US spelling do not matter. */
import { meantBy } from "./meant.js";
import { foldSpelling, singular } from "./spelling.js";

/** The words of one place. `T` is what a word means: an id, or the word itself. */
export interface Vocabulary<T extends string = string> {
  /** What the place asks for, such as `a finding`. */
  readonly what: string;
  /** One printed form for each meaning, in the order given. */
  readonly terms: ReadonlyMap<T, string>;
  /** A sentence on a meaning, where there is one. */
  readonly says: ReadonlyMap<T, string>;
  /** Every accepted spelling. */
  readonly spellings: readonly string[];
  find(word: string): T | undefined;
  /** At most three accepted spellings that were probably meant, one for each meaning; empty when nothing is near. */
  near(word: string): string[];
}

/** Makes a vocabulary; `entries` give a meaning, its printed form and its other spellings. */
export function vocabulary<T extends string>(
  what: string,
  entries: Iterable<{ id: T; term: string; also?: readonly string[]; what?: string }>,
): Vocabulary<T> {
  const terms = new Map<T, string>();
  const exact = new Map<string, T>();
  const loose = new Map<string, T | undefined>();
  const spellings: string[] = [];
  const says = new Map<T, string>();
  for (const { id, term, also = [], what: sentence } of entries) {
    terms.set(id, term);
    if (sentence !== undefined) says.set(id, sentence);
    for (const word of [term, id, ...also]) {
      const folded = foldSpelling(word);
      if (!exact.has(folded)) {
        exact.set(folded, id);
        spellings.push(word);
      }
      const single = singular(folded);
      // A singular that would fit two meanings fits neither.
      loose.set(single, loose.has(single) && loose.get(single) !== id ? undefined : id);
    }
  }
  const find = (word: string) => {
    const folded = foldSpelling(word);
    return exact.get(folded) ?? loose.get(singular(folded));
  };
  return { what, terms, says, spellings, find, near: (word) => meantBy(word, spellings, find) };
}

/** A vocabulary whose words mean themselves. */
export function plainWords<T extends string>(
  what: string,
  words: readonly T[],
  also: Partial<Record<T, readonly string[]>> = {},
): Vocabulary<T> {
  return vocabulary(
    what,
    words.map((word) => ({ id: word, term: word, also: also[word] ?? [] })),
  );
}
