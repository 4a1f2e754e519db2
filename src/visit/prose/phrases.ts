/**
 * Phrases of the facts catalogue, made ready for matching. Words stand in a row, with small filler words between them let pass;
 * `a|b` is either, `word*` any word that begins so, `..` up to four words of any kind, `&` joins parts in any order, near each
 * other, `&&` also over commas; after ` ! ` stand words with which the phrase does not hold, after ` @` the one place it is for.
 */
import { distance } from "fastest-levenshtein";
import { foldProse, type Sentence, stemOf, type Token } from "./tokens.js";

interface Element {
  readonly words: readonly string[];
  readonly stems: ReadonlySet<string>;
  readonly beginnings: readonly string[];
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

export function phraseOf(written: string): Phrase {
  const [phrase = "", only] = written.split(/\s@/u);
  const [body = "", unless = ""] = phrase.split(/\s!\s/u);
  const sides = body.split(/(?<!&)&(?!&)|(?=&&)/u).map((side) => ({
    elements: elementsOf(side.replace("&&", "").trim()),
    far: side.startsWith("&&"),
  }));
  const stems = unless.split(/[\s|]+/u).flatMap((word) => (word ? [stemOf(foldProse(word))] : []));
  return { sides, unless: new Set(stems), ...(only ? { only } : {}) };
}

function elementsOf(side: string): Element[] {
  const elements: Element[] = [];
  let gap = 0;
  for (const piece of side.split(/[\s-]+/u)) {
    if (piece === "..") {
      gap = WIDE;
      continue;
    }
    const words = piece.split("|").map((word) => foldProse(word).replaceAll("'", ""));
    elements.push({
      words: words.map((word) => word.replace("*", "")),
      stems: new Set(words.filter((word) => !word.endsWith("*")).map(stemOf)),
      beginnings: words.filter((word) => word.endsWith("*")).map((word) => word.slice(0, -1)),
      gap,
    });
    gap = 0;
  }
  return elements;
}

const elementsIn = (phrase: Phrase) => phrase.sides.flatMap((side) => side.elements);

/** Every stem a phrase names. */
export const stemsOf = (phrase: Phrase): string[] => elementsIn(phrase).flatMap((e) => [...e.stems]);

export interface Spelling {
  readonly word: string;
  /** True for the beginning of a word. */
  readonly beginning: boolean;
}

/** Every word, or beginning of a word, that a phrase names. */
export const spellingsOf = (phrase: Phrase): Spelling[] =>
  elementsIn(phrase).flatMap((e) =>
    e.words.map((word) => ({ word, beginning: e.beginnings.includes(word) })),
  );

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
    while (i > 0 && !fits(element, sentence[here])) {
      const token = sentence[here];
      if (!token || token.part !== sentence[at]?.part) return undefined;
      skipped += 1;
      if (skipped > element.gap && !fillers.has(token.word)) return undefined;
      if (skipped > element.gap + FILLERS) return undefined;
      here += 1;
    }
    if (!fits(element, sentence[here])) return undefined;
    held.add(here);
    here += 1;
  }
  return { from: at, to: here - 1, held };
}

function fits(element: Element, token: Token | undefined): boolean {
  if (!token) return false;
  return element.stems.has(token.stem) || element.beginnings.some((b) => token.word.startsWith(b));
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
