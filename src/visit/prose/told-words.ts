/**
 * Red flags told in words that stand in no list: each word of a sentence weighs for or against a flag, as many lines have taught
 * (`src/knowledge/told.yaml`, tests/prose/told). Words that are denied, past or of another person weigh nothing.
 */
import type { Told } from "../../knowledge/told-schema.js";
import type { Match } from "./phrases.js";
import { type Moment, meantBy, type Scopes, triggersIn } from "./scopes.js";
import type { Sentence, Token } from "./tokens.js";

/** A word that weighs, where it stands first in its sentence. */
export interface Weighing {
  readonly token: Token;
  /** True in a sentence that speaks of things and not of the body. */
  readonly ofThings?: boolean;
}

/** Words that may weigh: letters only, and more than one. */
const WEIGHS = /^\p{L}{2,}$/u;

/** The words of a sentence that speak of the patient now, each stem once. */
export function weighingWords(
  sentence: Sentence,
  scopes: Scopes,
  moment: Moment,
  weighs: (stem: string, at: number) => boolean,
): Weighing[] {
  const triggers = triggersIn(sentence, scopes);
  const seen = new Set<string>();
  return sentence.flatMap((token, at): Weighing[] => {
    const { stem } = token;
    if (seen.has(stem) || !WEIGHS.test(stem) || !weighs(stem, at)) return [];
    const match: Match = { from: at, to: at, held: new Set([at]) };
    const meant = meantBy(match, sentence, triggers, scopes, moment, false);
    if (meant !== "present" && meant !== "doubtful") return [];
    seen.add(stem);
    return [{ token }];
  });
}

/** Every sentence, and every two in a row: what is told may run over a full stop. */
export function windows<T>(all: readonly (readonly T[])[]): T[][] {
  return all.flatMap((one, i) => {
    const next = all[i + 1];
    return next ? [[...one], [...one, ...next]] : [[...one]];
  });
}

export interface ToldRead {
  readonly fact: string;
  /** First and last character of the words that weigh for it most, in the text. */
  readonly start: number;
  readonly end: number;
}

/** Of a word, the flags it weighs for or against. */
export type ToldWords = Pick<
  ReadonlyMap<string, readonly (readonly [fact: string, weight: number])[]>,
  "get" | "has"
>;

/** The weights by word, as sorted lines of one text that names flags by their number: a few words are found there sooner than a map of all is made. */
export function toldIndex(told: Told): string {
  const lines = new Map<string, string>();
  for (const [fact, { words }] of Object.values(told.facts).entries()) {
    for (const [weight, stems] of Object.entries(words)) {
      for (const stem of stems.split(" ")) lines.set(stem, `${lines.get(stem) ?? stem} ${fact}:${weight}`);
    }
  }
  return `\n${[...lines.values()].sort().join("\n")}\n`;
}

/** What stands behind a word in its line of `toldIndex`; undefined for a word that weighs nothing. */
function behind(word: string, index: string): string | undefined {
  // The line ends before and after what is left to look through.
  let [from, to] = [0, index.length - 1];
  while (from < to) {
    const middle = (from + to) >> 1;
    const start = index.lastIndexOf("\n", middle);
    const end = index.indexOf("\n", middle + 1);
    const space = index.indexOf(" ", start);
    const here = index.slice(start + 1, space);
    if (here === word) return index.slice(space + 1, end);
    if (here < word) from = end;
    else to = start;
  }
  return undefined;
}

/** As `toldIndex` of the same has them. */
export function toldWords(told: Told, index: string): ToldWords {
  const facts = Object.keys(told.facts);
  const read = new Map<string, (readonly [string, number])[]>();
  const get = (word: string) => {
    const known = read.get(word);
    const line = known ? undefined : behind(word, index);
    if (line === undefined) return known;
    const weights = line.split(" ").map((one) => {
      const [fact, weight] = one.split(":");
      return [facts[Number(fact)] ?? "", Number(weight)] as const;
    });
    read.set(word, weights);
    return weights;
  };
  return { get, has: (word) => get(word) !== undefined };
}

/** Words quoted as telling a flag: the heaviest for it, and those near by that weigh for it too. */
const QUOTED = 3;
/** How far apart quoted words may stand, in characters. */
const REACH = 60;

function heaviest(window: readonly Weighing[], fact: string, weights: ToldWords): Token[] {
  const weightOf = ({ token }: Weighing) => weights.get(token.stem)?.find(([of]) => of === fact)?.[1] ?? 0;
  const speaking = window.filter((w) => weightOf(w) > 0).toSorted((a, b) => weightOf(b) - weightOf(a));
  const [first] = speaking;
  if (!first) return [];
  return speaking
    .filter(({ token }) => Math.abs(token.start - first.token.start) <= REACH)
    .slice(0, QUOTED)
    .map(({ token }) => token);
}

/** The flags that the sentences of one text tell, each with the words that told it; `amongThings`: flags told beside things too. */
export function toldIn(
  all: readonly (readonly Weighing[])[],
  told: Told,
  weights: ToldWords,
  amongThings: (fact: string) => boolean,
): ToldRead[] {
  const found = new Map<string, ToldRead>();
  for (const window of windows(all)) {
    const sums = new Map<string, number>();
    const counted = new Set<string>();
    for (const { token, ofThings } of window) {
      if (counted.has(token.stem)) continue;
      counted.add(token.stem);
      for (const [fact, weight] of weights.get(token.stem) ?? [])
        if (!ofThings || amongThings(fact)) sums.set(fact, (sums.get(fact) ?? 0) + weight);
    }
    for (const [fact, sum] of sums) {
      if (found.has(fact) || sum < (told.facts[fact]?.from ?? Number.POSITIVE_INFINITY)) continue;
      const speaking = heaviest(window, fact, weights);
      found.set(fact, {
        fact,
        start: Math.min(...speaking.map((t) => t.start)),
        end: Math.max(...speaking.map((t) => t.end)),
      });
    }
  }
  return [...found.values()];
}
