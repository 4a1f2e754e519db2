/**
 * Phrases of the facts catalogue, made ready for matching. Words stand in a row, with small filler words between them let pass;
 * `a|b` is either, `word*` any word that begins so, `=word` that very form, `two_words` a row that is one of them, `<idea>` any wording of an idea of prose.yaml, `>n` and
 * `<n` a number, `..` up to four words of any kind, `&` joins parts in any order, near each other, `&&` also over commas; after ` ! `
 * stand words with which the phrase does not hold, after ` @` the one place it is for.
 */
import { distance } from "fastest-levenshtein";
import { foldProse, type Sentence, stemOf } from "./tokens.js";

interface Element {
  readonly stems: ReadonlySet<string>;
  readonly exact: ReadonlySet<string>;
  readonly beginnings: readonly string[];
  /** Wordings of more than one word, as stems. */
  readonly rows: readonly (readonly string[])[];
  readonly above?: number;
  readonly below?: number;
  readonly spellings: readonly Spelling[];
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
  /** Stems with which it does not hold in the same part of a sentence. */
  readonly unless: ReadonlySet<string>;
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

/** Wordings of each idea, by name. */
export type Ideas = Readonly<Record<string, readonly string[]>>;

export function phraseOf(written: string, ideas: Ideas = {}): Phrase {
  const [phrase = "", only] = written.split(/\s@/u);
  const [body = "", unless = ""] = phrase.split(/\s!\s/u);
  const sides = body.split(/(?<!&)&(?!&)|(?=&&)/u).map((side) => ({
    elements: elementsOf(side.replace("&&", "").trim(), ideas),
    far: side.startsWith("&&"),
  }));
  const stems = unless
    .split(/[\s|]+/u)
    .flatMap((word) => (word ? wordings(word, ideas).map((w) => stemOf(folded(w))) : []));
  return { sides, unless: new Set(stems), ...(only ? { only } : {}) };
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

function elementOf(piece: string, gap: number, ideas: Ideas): Element {
  const bound = /^([<>])(\d+(?:\.\d+)?)$/u.exec(piece);
  if (bound) {
    const side = bound[1] === ">" ? "above" : "below";
    return { ...NO_WORDS, gap, [side]: Number(bound[2]) };
  }
  const all = piece.split("|").flatMap((word) => wordings(word, ideas));
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
    gap,
  };
}

const NO_WORDS = {
  stems: new Set<string>(),
  exact: new Set<string>(),
  beginnings: [],
  rows: [],
  spellings: [],
} as const;

const folded = (word: string) => foldProse(word).replaceAll("'", "");

/** `<idea>` as its wordings; an idea may name others. */
function wordings(word: string, ideas: Ideas): readonly string[] {
  const name = /^<([a-z_]+)>$/u.exec(word)?.[1];
  if (name === undefined) return [word.replaceAll("_", " ")];
  const list = ideas[name];
  if (!list) throw new Error(`prose: no idea is called ${name}`);
  return list.flatMap((one) => wordings(one, ideas));
}

const elementsIn = (phrase: Phrase) => phrase.sides.flatMap((side) => side.elements);

/** Every stem a phrase names. */
export const stemsOf = (phrase: Phrase): string[] =>
  elementsIn(phrase).flatMap((e) => [...e.stems, ...[...e.exact].map(stemOf), ...e.rows.flat()]);

/** Stems with which the first part of a phrase may begin; "" where the beginning of a word or a number may. */
export function firstStems(phrase: Phrase): string[] {
  const first = phrase.sides[0]?.elements[0];
  if (!first) return [];
  const open = first.beginnings.length > 0 || first.above !== undefined || first.below !== undefined;
  const exact = [...first.exact].map(stemOf);
  return [
    ...new Set([...(open ? [""] : []), ...first.stems, ...exact, ...first.rows.flatMap((r) => r[0] ?? [])]),
  ];
}

export interface Spelling {
  readonly word: string;
  /** True for the beginning of a word. */
  readonly beginning: boolean;
}

/** Every word, or beginning of a word, that a phrase names. */
export const spellingsOf = (phrase: Phrase): Spelling[] => elementsIn(phrase).flatMap((e) => e.spellings);

/** Where the phrase stands in a sentence; each start at most once. */
export function matches(phrase: Phrase, sentence: Sentence, fillers: ReadonlySet<string>): Match[] {
  const [first, ...others] = phrase.sides;
  if (!first) return [];
  return sentence.flatMap((_, at) => {
    const found = standsAt(first, sentence, at, fillers);
    if (!found || hindered(phrase, sentence, found)) return [];
    if (others.length === 0) return [found];
    const all = others.flatMap((side) => nearBy(side, sentence, found, fillers) ?? []);
    return all.length === others.length ? [[found, ...all].reduce(joined)] : [];
  });
}

function hindered(phrase: Phrase, sentence: Sentence, match: Match): boolean {
  if (phrase.unless.size === 0) return false;
  const part = sentence[match.from]?.part;
  return sentence.some((t) => t.part === part && phrase.unless.has(t.stem));
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
  const held = new Set<number>();
  let here = at;
  for (const [i, element] of side.elements.entries()) {
    let skipped = 0;
    let long = fits(element, sentence, here, fillers);
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
  if (element.stems.has(token.stem) || element.exact.has(token.word)) return 1;
  if (element.beginnings.some((b) => token.word.startsWith(b))) return 1;
  const number = Number(token.word.replace(",", "."));
  if (element.above !== undefined) return number > element.above ? 1 : 0;
  if (element.below !== undefined) return number < element.below ? 1 : 0;
  for (const row of element.rows) {
    const long = row[0] === token.stem ? rowAt(row, sentence, here, fillers) : 0;
    if (long > 0) return long;
  }
  return 0;
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

/** Spellings of the phrases by their first letter. */
export type Spellings = ReadonlyMap<string, readonly Spelling[]>;

/** The sentence with slips of the keyboard put right: a word in no list, one slip from a word of a phrase. */
export function mended(sentence: Sentence, spellings: Spellings, known: ReadonlySet<string>): Sentence {
  return sentence.map((token) => {
    if (known.has(token.stem) || known.has(token.word) || token.word.length < 5 || /\d/u.test(token.word))
      return token;
    const alike = spellings.get(token.word.charAt(0)) ?? [];
    if (alike.some(({ word, beginning }) => beginning && token.word.startsWith(word))) return token;
    const near = alike.find(({ word, beginning }) => {
      if (!beginning) return isSlip(token.word, word);
      return [-1, 0, 1].some((more) => isSlip(token.word.slice(0, word.length + more), word));
    });
    return near ? { ...token, word: near.word, stem: near.beginning ? near.word : stemOf(near.word) } : token;
  });
}

function isSlip(written: string, meant: string): boolean {
  if (meant.length < 5 || written.length < 5) return false;
  const most = meant.length >= 9 ? 2 : 1;
  const close = Math.abs(written.length - meant.length) <= most && distance(written, meant) <= most;
  return close || swapped(written, meant);
}

/** Two neighbouring letters changed places. */
function swapped(written: string, meant: string): boolean {
  if (written.length !== meant.length) return false;
  const at = [...written].findIndex((letter, i) => letter !== meant[i]);
  return (
    at >= 0 &&
    written[at] === meant[at + 1] &&
    written[at + 1] === meant[at] &&
    written.slice(at + 2) === meant.slice(at + 2)
  );
}
