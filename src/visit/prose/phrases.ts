/**
 * Phrases of the facts catalogue, made ready for matching. Words stand in a row, with small filler words between them let pass;
 * `a|b` is either, `word*` any word that begins so, `=word` that very form, `two_words` a row that is one of them, `<idea>` any wording of an idea of prose.yaml, `>n` and
 * `<n` a number, `..` up to four words of any kind, `&` joins parts in any order, near each other, `&&` also over commas; after ` ! `
 * stand words or ideas with which the phrase does not hold in the same part of a sentence, after ` !! ` in the whole of it, after ` @` the
 * one place it is for.
 */
import { foldProse, type Sentence, stemOf, type Token } from "./tokens.js";

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
  /** Wordings of more than one word, as stems, by the first. */
  readonly rows: ReadonlyMap<string, readonly (readonly string[])[]>;
  /** As it was written, to be asked for its spellings. */
  readonly written: readonly string[];
}

export interface Element {
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

/** `>37.9`, `<50`, `>37.9<43`. */
const BOUND = /^(?:>(\d+(?:\.\d+)?))?(?:<(\d+(?:\.\d+)?))?$/u;
const IDEA = /^<([a-z_]+)>$/u;

function elementOf(piece: string, gap: number, ideas: Ideas): Element {
  const sets: WordSet[] = [];
  const words: string[] = [];
  let bound: { readonly above?: number; readonly below?: number } = {};
  for (const word of piece.split("|")) {
    const name = IDEA.exec(word)?.[1];
    const [, above, below] = BOUND.exec(word) ?? [];
    if (name !== undefined) sets.push(ideas(name));
    else if (above !== undefined || below !== undefined)
      bound = {
        ...(above === undefined ? {} : { above: Number(above) }),
        ...(below === undefined ? {} : { below: Number(below) }),
      };
    else words.push(word.replaceAll("_", " ").replace(/\bcannot\b/u, "can not"));
  }
  if (words.length > 0) sets.push(setOf(words));
  return { sets, ...bound, gap };
}

/** A very form or a beginning. */
const NO_WORD = /^=|\*$/u;

const isRow = (written: string) => /[\s-]/u.test(written);
const rowOf = (written: string) => written.split(/[\s-]+/u).map(folded);

function setOf(written: readonly string[]): WordSet {
  const stems = new Set<string>();
  const exact = new Set<string>();
  const beginnings: string[] = [];
  const rows = new Map<string, (readonly string[])[]>();
  for (const word of written) {
    if (isRow(word)) {
      const row = rowOf(word).map(stemOf);
      const [first = ""] = row;
      const others = rows.get(first);
      if (others) others.push(row);
      else rows.set(first, [row]);
    } else {
      if (word.endsWith("*")) beginnings.push(folded(word.slice(0, -1)));
      if (word.startsWith("=")) exact.add(folded(word.slice(1)));
      if (!NO_WORD.test(word)) stems.add(stemOf(folded(word)));
    }
  }
  return { stems, exact, beginnings, rows, written };
}

/** The words of a set for which a slip may stand. */
export function spellingsOf({ written, beginnings }: WordSet): readonly Spelling[] {
  const plain = written.filter((word) => !isRow(word) && !NO_WORD.test(word)).map(folded);
  const inRows = written.filter(isRow).flatMap(rowOf);
  return [
    ...[...plain, ...inRows].map((word) => ({ word, beginning: false })),
    ...beginnings.map((word) => ({ word, beginning: true })),
  ];
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
  ...[...set.rows.values()].flat(2),
];

/** Letters by which the beginning of a word is looked up. */
const FIRST = 3;
const NUMBER = "#";
const beginningKey = (word: string) => (word.length < FIRST ? "" : `*${word.slice(0, FIRST)}`);

/** What a word is looked up by: its stem, its first letters, and that it may be a number. */
export function keysOfWord({ word, stem }: Token): readonly string[] {
  const keys = [stem, beginningKey(word)];
  // A word put right may stand without its ending where a phrase names its very form.
  const other = stemOf(word);
  if (other !== stem) keys.push(other);
  if (/^\d/u.test(word)) keys.push(NUMBER);
  return keys;
}

/** Keys one of which a word has with which the element begins; "" where it might be any word. */
export function keysOfElement({ sets, above, below }: Element): ReadonlySet<string> {
  const isNumber = above !== undefined || below !== undefined;
  return new Set([
    ...(isNumber ? [NUMBER] : []),
    ...sets.flatMap((set) => [
      ...set.beginnings.map(beginningKey),
      ...set.stems,
      ...[...set.exact].map(stemOf),
      ...set.rows.keys(),
    ]),
  ]);
}

/** Where in the sentence the phrase might begin at the earliest, by the stems of its first element; -1 where other words may begin it too. */
export function beginsAt(phrase: Phrase, sentence: Sentence): number {
  const first = phrase.sides[0]?.elements[0];
  if (!first || first.above !== undefined || first.below !== undefined) return -1;
  if (first.sets.some((set) => set.beginnings.length > 0)) return -1;
  const keys = keysOfElement(first);
  return sentence.findIndex(({ stem }) => keys.has(stem));
}

/** Where the phrase stands in a sentence; each start at most once. */
export function matches(phrase: Phrase, sentence: Sentence, fillers: ReadonlySet<string>): Match[] {
  const [first, ...others] = phrase.sides;
  const all: Match[] = [];
  if (!first) return all;
  for (let at = 0; at < sentence.length; at++) {
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
    const rows = set.rows.get(token.stem);
    if (rows) {
      for (const row of rows) {
        const long = rowAt(row, sentence, here, fillers);
        if (long > 0) return long;
      }
    }
  }
  if (element.above === undefined && element.below === undefined) return 0;
  const number = Number(token.word.replace(",", "."));
  return number > (element.above ?? Number.NEGATIVE_INFINITY) &&
    number < (element.below ?? Number.POSITIVE_INFINITY)
    ? 1
    : 0;
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
