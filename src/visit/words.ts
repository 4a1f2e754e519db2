/** Words a person may write in one place, each with what it means: case, hyphens, plural and US spelling do not matter. */
import { foldWord, nearestWords } from "../base/nearest.js";

/** British against US spelling inside trade words; both read as the second. */
export const SPELLED_TWO_WAYS: readonly (readonly [string, string])[] = [
  ["haem", "hem"],
  ["oedema", "edema"],
  ["colour", "color"],
  ["grey", "gray"],
  ["fibre", "fiber"],
  ["ised", "ized"],
  ["ising", "izing"],
  ["centre", "center"],
];

/** The words of one place. `T` is what a word means: an id, or the word itself. */
export interface Vocabulary<T extends string = string> {
  /** What the place asks for, such as `a finding`. */
  readonly what: string;
  /** One printed form for each meaning, in the order given. */
  readonly terms: ReadonlyMap<T, string>;
  /** Every accepted spelling. */
  readonly spellings: readonly string[];
  find(word: string): T | undefined;
  /** Accepted spellings nearest to `word`; empty when nothing is near. */
  near(word: string): string[];
}

/** Makes a vocabulary; `entries` give a meaning, its printed form and its other spellings. */
export function vocabulary<T extends string>(
  what: string,
  entries: Iterable<{ id: T; term: string; also?: readonly string[] }>,
): Vocabulary<T> {
  const terms = new Map<T, string>();
  const exact = new Map<string, T>();
  const loose = new Map<string, T | undefined>();
  const spellings: string[] = [];
  for (const { id, term, also = [] } of entries) {
    terms.set(id, term);
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
  return {
    what,
    terms,
    spellings,
    find: (word) => {
      const folded = foldSpelling(word);
      return exact.get(folded) ?? loose.get(singular(folded));
    },
    near: (word) => nearestWords(word, spellings).slice(0, 3),
  };
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

/** `Hair-Shaft  Haemorrhages` -> `hair shaft hemorrhages` */
export function foldSpelling(word: string): string {
  let folded = foldWord(word);
  for (const [british, us] of SPELLED_TWO_WAYS) folded = folded.replaceAll(british, us);
  return folded;
}

/** Every word without its plural ending; crude, but the same on both sides of a comparison. */
export function singular(folded: string): string {
  return folded
    .split(" ")
    .map((word) =>
      word.length < 4
        ? word
        : word
            .replace(/ies$/u, "y")
            .replace(/(x|ch|sh)es$/u, "$1")
            .replace(/([^s])s$/u, "$1"),
    )
    .join(" ");
}
