/** Words of a group that lie one slip apart, found without holding each against each: two such words share one with a character left out. */
import { isOneSlipApart } from "../base/look-alike.js";

export class Slips<T> {
  private readonly byWord = new Map<string, T[]>();
  private readonly byRest = new Map<string, string[]>();

  constructor(
    things: readonly T[],
    private readonly wordOf: (thing: T) => string,
  ) {
    for (const thing of things) {
      const word = wordOf(thing);
      const same = this.byWord.get(word);
      if (same) {
        same.push(thing);
        continue;
      }
      this.byWord.set(word, [thing]);
      for (const rest of rests(word)) {
        const near = this.byRest.get(rest);
        if (near) near.push(word);
        else this.byRest.set(rest, [word]);
      }
    }
  }

  /** Those whose word is one slip from this one's. */
  near(thing: T): T[] {
    const word = this.wordOf(thing);
    const words = new Set([...rests(word)].flatMap((rest) => this.byRest.get(rest) ?? []));
    return [...words]
      .filter((other) => isOneSlipApart(word, other))
      .flatMap((other) => this.byWord.get(other) ?? []);
  }
}

/** The word, and what is left of it without one of its characters. */
function rests(word: string): ReadonlySet<string> {
  const all = new Set([word]);
  for (let i = 0; i < word.length; i += 1) all.add(word.slice(0, i) + word.slice(i + 1));
  return all;
}
