/** Words on the command line -> regions, disorders and findings; one that is none is said with the nearest that is. */
import type { Vocabulary } from "../visit/vocabulary.js";

/** Several words, each argument also a list with commas; undefined, and said so on stderr, when one is not known. */
export function wordsGiven<T extends string>(
  given: readonly string[],
  words: Vocabulary<T>,
): T[] | undefined {
  const found: T[] = [];
  const unknown: string[] = [];
  for (const word of given.flatMap((g) => g.split(",")).map((g) => g.trim())) {
    if (word === "") continue;
    const id = words.find(word);
    if (id !== undefined) found.push(id);
    else unknown.push(word);
  }
  for (const word of unknown) {
    const near = words.near(word);
    const hint =
      near.length > 0
        ? `Did you mean ${near.join(" or ")}?`
        : `Known: ${[...words.terms.values()].slice(0, 20).join(", ")}${words.terms.size > 20 ? ", ..." : ""}.`;
    process.stderr.write(`"${word}" is not ${words.what}. ${hint}\n`);
  }
  return unknown.length > 0 ? undefined : [...new Set(found)];
}
