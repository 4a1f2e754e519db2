/**
 * Phrases of the facts catalogue, made ready for matching. Words stand in a row, with small filler words between them let pass;
 * `a|b` is either, `word*` any word that begins so, `=word` that very form, `two_words` a row that is one of them, `<idea>` any wording of an idea of prose.yaml, `>n` and
 * `<n` a number, `..` up to four words of any kind, `&` joins parts in any order, near each other, `&&` also over commas; after ` ! `
 * stand words or ideas with which the phrase does not hold in the same part of a sentence, after ` !! ` in the whole of it, after ` @` the
 * one place it is for.
 */
import { foldProse, type Sentence, stemOf } from "./tokens.js";

export interface Spelling {
  readonly word: string;
  /** True for the beginning of a word. */
  readonly beginning: boolean;
}

/** Words that are one and the same to a phrase. */
export interface WordSet {
  readonly stems: ReadonlySet<string>;
  readonly exact: ReadonlySet<string>;
  readonly beginnings: readonly string[];
  /** Wordings of more than one word, as stems. */
  readonly rows: readonly (readonly string[])[];
  readonly spellings: readonly Spelling[];
}

interface Element {
  readonly sets: readonly WordSet[];
  readonly above?: number;
  readonly below?: number;
  /** Words of any kind that may stand before it, beyond fillers. */
  readonly gap: number;
}

interface Side {
  readonly elements: readonly Element[];
  /** It may stand in another part of the sentence than the first. */
  readonly far: boolean;
}

export interface Phrase {
  /** Parts that may stand in any order. */
  readonly sides: readonly Side[];
  /** Words with which it does not hold in the same part of a sentence. */
  readonly unless: readonly WordSet[];
  /** Words with which it does not hold anywhere in a sentence. */
  readonly unlessAnywhere: readonly WordSet[];
  /** The one place of free text it is for; any when left out. */
  readonly only?: string;
  /** Stems with which the first part may begin; "" where the beginning of a word or a number may. */
  readonly starts: ReadonlySet<string>;
}

/** First and last token of a match; `held` are the tokens that the phrase itself names. */
export interface Match {
  readonly from: number;
  readonly to: number;
  readonly held: ReadonlySet<number>;
}

/** Words of any kind that `..` lets pass. */
const WIDE = 4;
/** Fillers that may stand between two words of a phrase. */
const FILLERS = 3;
/** How far apart the parts joined by `&` and by `&&` may stand, in words. */
const APART = 7;
const FAR = 14;

/** The words of an idea, by its name. */
export type Ideas = (name: string) => WordSet;
const NO_IDEAS: Ideas = (name) => {
  throw new Error(`prose: no idea is called ${name}`);
};

/** Each idea is made ready once, however many phrases name it. */
export function ideasOf(wordings: Readonly<Record<string, readonly string[]>>): Ideas {
  const ready = new Map<string, WordSet>();
  return (name) => {
    let set = ready.get(name);
    if (!set) {
      const list = wordings[name];
      if (!list) return NO_IDEAS(name);
      set = setOf(list);
      ready.set(name, set);
    }
    return set;
  };
}

export function phraseOf(written: string, ideas: Ideas = NO_IDEAS): Phrase {
  const [phrase = "", only] = written.split(/\s@/u);
  const [near = "", anywhere = ""] = phrase.split(/\s!!\s/u);
  const [body = "", unless = ""] = near.split(/\s!\s/u);
  const sides = body.split(/(?<!&)&(?!&)|(?=&&)/u).map((side) => ({
    elements: elementsOf(side.replace("&&", "").trim(), ideas),
    far: side.startsWith("&&"),
  }));
  return {
    sides,
    unless: setsIn(unless, ideas),
    unlessAnywhere: setsIn(anywhere, ideas),
    ...(only ? { only } : {}),
    starts: firstStems(sides),
  };
}

function setsIn(words: string, ideas: Ideas): readonly WordSet[] {
  const all = words.trim().split(/[\s|]+/u);
  return words.trim() === "" ? [] : elementOf(all.join("|"), 0, ideas).sets;
}

function elementsOf(side: string, ideas: Ideas): Element[] {
  const elements: Element[] = [];
  let gap = 0;
  for (const piece of side.split(/[\s-]+/u)) {
    if (piece === "..") {
      gap = WIDE;
      continue;
    }
    elements.push(elementOf(piece, gap, ideas));
    gap = 0;
  }
  return elements;
}

const BOUND = /^([<>])(\d+(?:\.\d+)?)$/u;
const IDEA = /^<([a-z_]+)>$/u;

function elementOf(piece: string, gap: number, ideas: Ideas): Element {
  const sets: WordSet[] = [];
  const words: string[] = [];
  let bound: { readonly above?: number; readonly below?: number } = {};
  for (const word of piece.split("|")) {
    const name = IDEA.exec(word)?.[1];
    const [, side, number] = BOUND.exec(word) ?? [];
    if (name !== undefined) sets.push(ideas(name));
    else if (side !== undefined) bound = { [side === ">" ? "above" : "below"]: Number(number) };
    else words.push(word.replaceAll("_", " ").replace(/\bcannot\b/u, "can not"));
  }
  if (words.length > 0) sets.push(setOf(words));
  return { sets, ...bound, gap };
}

function setOf(all: readonly string[]): WordSet {
  const single = all.filter((word) => !/[\s-]/u.test(word));
  const starts = single.flatMap((word) => (word.endsWith("*") ? [folded(word.slice(0, -1))] : []));
  const exact = single.flatMap((word) => (word.startsWith("=") ? [folded(word.slice(1))] : []));
  const plain = single.filter((word) => !/^=|\*$/u.test(word)).map(folded);
  const rows = all.filter((word) => /[\s-]/u.test(word)).map((row) => row.split(/[\s-]+/u).map(folded));
  const spelled = [...plain, ...rows.flat()].map((word) => ({ word, beginning: false }));
  return {
    stems: new Set(plain.map(stemOf)),
    exact: new Set(exact),
    beginnings: starts,
    rows: rows.map((row) => row.map(stemOf)),
    spellings: [...spelled, ...starts.map((word) => ({ word, beginning: true }))],
  };
}

const foldings = new Map<string, string>();

/** Phrases share most of their words, so that each is folded once. */
function folded(word: string): string {
  let known = foldings.get(word);
  if (known === undefined) {
    known = foldProse(word).replaceAll("'", "");
    foldings.set(word, known);
  }
  return known;
}

/** Every set of words that a phrase names. */
export const setsOf = (phrase: Phrase): readonly WordSet[] =>
  phrase.sides.flatMap((side) => side.elements.flatMap((e) => e.sets));

/** Every stem that a set names. */
export const stemsOf = (set: WordSet): string[] => [
  ...set.stems,
  ...[...set.exact].map(stemOf),
  ...set.rows.flat(),
];

function firstStems(sides: readonly Side[]): ReadonlySet<string> {
  const first = sides[0]?.elements[0];
  const stems = new Set<string>();
  if (!first) return stems;
  if (first.above !== undefined || first.below !== undefined) stems.add("");
  for (const set of first.sets) {
    if (set.beginnings.length > 0) stems.add("");
    for (const stem of set.stems) stems.add(stem);
    for (const word of set.exact) stems.add(stemOf(word));
    for (const row of set.rows) if (row[0]) stems.add(row[0]);
  }
  return stems;
}

/** Where the phrase stands in a sentence; each start at most once. */
export function matches(phrase: Phrase, sentence: Sentence, fillers: ReadonlySet<string>): Match[] {
  const [first, ...others] = phrase.sides;
  const all: Match[] = [];
  if (!first) return all;
  const anywhere = phrase.starts.has("");
  for (const [at, { stem }] of sentence.entries()) {
    if (!anywhere && !phrase.starts.has(stem)) continue;
    const found = standsAt(first, sentence, at, fillers);
    if (!found) continue;
    const sides = [found, ...others.flatMap((side) => nearBy(side, sentence, found, fillers) ?? [])];
    if (sides.length <= others.length || hindered(phrase, sentence, sides, fillers)) continue;
    all.push(sides.reduce(joined));
  }
  return all;
}

/** A word that the phrase is not to stand with stands in the clause of one of its sides, or anywhere where it must not. */
function hindered(
  phrase: Phrase,
  sentence: Sentence,
  sides: readonly Match[],
  fillers: ReadonlySet<string>,
): boolean {
  const stands = (sets: readonly WordSet[], here: (at: number) => boolean) =>
    sets.length > 0 &&
    sentence.some((_, at) => here(at) && fits({ sets, gap: 0 }, sentence, at, fillers) > 0);
  return (
    stands(phrase.unless, (at) => sides.some((side) => sentence[at]?.part === sentence[side.from]?.part)) ||
    stands(phrase.unlessAnywhere, () => true)
  );
}

const joined = (a: Match, b: Match): Match => ({
  from: Math.min(a.from, b.from),
  to: Math.max(a.to, b.to),
  held: new Set([...a.held, ...b.held]),
});

function nearBy(side: Side, sentence: Sentence, to: Match, fillers: ReadonlySet<string>): Match | undefined {
  const part = sentence[to.from]?.part;
  const most = side.far ? FAR : APART;
  let best: Match | undefined;
  for (let at = Math.max(0, to.from - most - 2); at <= to.to + most && at < sentence.length; at++) {
    if ((!side.far && sentence[at]?.part !== part) || to.held.has(at)) continue;
    const found = standsAt(side, sentence, at, fillers);
    if (!found) continue;
    const apart = found.from > to.to ? found.from - to.to : to.from - found.to;
    if (apart > most) continue;
    if (!best || Math.abs(found.from - to.from) < Math.abs(best.from - to.from)) best = found;
  }
  return best;
}

function standsAt(
  side: Side,
  sentence: Sentence,
  at: number,
  fillers: ReadonlySet<string>,
): Match | undefined {
  const [first] = side.elements;
  const begins = first ? fits(first, sentence, at, fillers) : 0;
  // As nearly everywhere.
  if (begins === 0) return undefined;
  const held = new Set<number>();
  let here = at;
  for (const [i, element] of side.elements.entries()) {
    let skipped = 0;
    let long = i === 0 ? begins : fits(element, sentence, here, fillers);
    while (i > 0 && long === 0) {
      const token = sentence[here];
      if (!token || token.part !== sentence[at]?.part) return undefined;
      skipped += 1;
      if (skipped > element.gap && !fillers.has(token.word)) return undefined;
      if (skipped > element.gap + FILLERS) return undefined;
      here += 1;
      long = fits(element, sentence, here, fillers);
    }
    if (long === 0) return undefined;
    for (const end = here + long; here < end; here++) held.add(here);
  }
  return { from: at, to: here - 1, held };
}

/** How many words of the sentence the element takes from here on; none when it does not fit. */
function fits(element: Element, sentence: Sentence, here: number, fillers: ReadonlySet<string>): number {
  const token = sentence[here];
  if (!token) return 0;
  for (const set of element.sets) {
    if (set.stems.has(token.stem) || set.exact.has(token.word)) return 1;
    if (set.beginnings.some((b) => token.word.startsWith(b))) return 1;
    for (const row of set.rows) {
      const long = row[0] === token.stem ? rowAt(row, sentence, here, fillers) : 0;
      if (long > 0) return long;
    }
  }
  if (element.above === undefined && element.below === undefined) return 0;
  const number = Number(token.word.replace(",", "."));
  return number > (element.above ?? Number.POSITIVE_INFINITY) || number < (element.below ?? 0) ? 1 : 0;
}

function rowAt(row: readonly string[], sentence: Sentence, at: number, fillers: ReadonlySet<string>): number {
  let here = at;
  for (const stem of row) {
    const most = here + FILLERS;
    while (here < most && sentence[here]?.stem !== stem && fillers.has(sentence[here]?.word ?? "")) here += 1;
    if (sentence[here]?.stem !== stem || sentence[here]?.part !== sentence[at]?.part) return 0;
    here += 1;
  }
  return here - at;
}
