/**
 * A list of phrases of which few are ever needed. Each stands in an index under its rarest word, so that a sentence meets
 * only those it may hold, and is made ready when a sentence first meets it.
 */
import type { PhraseIndex } from "../../knowledge/prose-schema.js";
import {
  type Ideas,
  keysOfElement,
  keysOfWord,
  type Match,
  matches,
  type Phrase,
  phraseOf,
} from "./phrases.js";
import type { Sentence } from "./tokens.js";

/** By the name of a list. */
export type PhraseIndexes = Readonly<Record<string, PhraseIndex>>;

export interface PhraseList {
  /** Those that may stand in the sentence, each with its number, in their order. */
  near(sentence: Sentence): readonly (readonly [number: number, phrase: Phrase])[];
}

/** Without an index, one is made of all phrases. */
export function phraseList(written: readonly string[], index?: PhraseIndex, ideas?: Ideas): PhraseList {
  const ready: (Phrase | undefined)[] = [];
  const phrase = (number: number): Phrase => {
    const found = ready[number] ?? phraseOf(written[number] ?? "", ideas);
    ready[number] = found;
    return found;
  };
  const numbersBy = index ?? indexOf(written.map((_, number) => phrase(number)));
  const under = (key: string) => (Object.hasOwn(numbersBy, key) ? (numbersBy[key] ?? []) : []);
  return {
    near(sentence) {
      const numbers = new Set(under(""));
      for (const token of sentence)
        for (const key of keysOfWord(token)) for (const number of under(key)) numbers.add(number);
      return [...numbers].sort((a, b) => a - b).map((number) => [number, phrase(number)] as const);
    },
  };
}

/** Where any of the phrases stands in the sentence, in the order of the phrases. */
export const found = (list: PhraseList, sentence: Sentence, fillers: ReadonlySet<string>): Match[] =>
  list.near(sentence).flatMap(([, phrase]) => matches(phrase, sentence, fillers));

export const standsIn = (list: PhraseList, sentence: Sentence, fillers: ReadonlySet<string>): boolean =>
  list.near(sentence).some(([, phrase]) => matches(phrase, sentence, fillers).length > 0);

/** The index of phrases: each under the words that the fewest others name. */
export function indexOf(phrases: readonly Phrase[]): PhraseIndex {
  const needed = phrases.map((phrase) =>
    phrase.sides.flatMap((side) => side.elements.map((element) => keysOfElement(element))),
  );
  const times = new Map<string, number>();
  for (const stem of needed.flat().flatMap((keys) => [...keys])) times.set(stem, (times.get(stem) ?? 0) + 1);
  const cost = (stems: ReadonlySet<string>) =>
    stems.has("")
      ? Number.POSITIVE_INFINITY
      : [...stems].reduce((sum, stem) => sum + (times.get(stem) ?? 0), 0);
  const byStem: Record<string, number[]> = {};
  for (const [number, all] of needed.entries()) {
    const rarest = all.reduce((best, stems) => (cost(stems) < cost(best) ? stems : best));
    for (const stem of rarest.has("") ? [""] : rarest) {
      const list = Object.hasOwn(byStem, stem) ? byStem[stem] : undefined;
      if (list) list.push(number);
      else byStem[stem] = [number];
    }
  }
  return byStem;
}
