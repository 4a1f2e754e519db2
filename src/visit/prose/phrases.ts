/**
 * Phrases of the facts catalogue, made ready for matching. Words stand in a row, with small filler words between them let pass;
 * `a|b` is either, `word*` any word that begins so, `..` up to four words of any kind, `&` joins parts in any order, near each other;
 * after ` ! ` stand words with which it does not hold.
 */
import { distance } from "fastest-levenshtein";
import { foldProse, type Sentence, stemOf, type Token } from "./tokens.js";

interface Element {
  readonly stems: ReadonlySet<string>;
  readonly beginnings: readonly string[];
  /** Words of any kind that may stand before it, beyond fillers. */
  readonly gap: number;
}

type Side = readonly Element[];

export interface Phrase {
  /** Parts that may stand in any order. */
  readonly sides: readonly Side[];
  /** Stems with which it does not hold in the same part of a sentence. */
  readonly unless: ReadonlySet<string>;
}

/** First and last token of a match; `held` are the tokens that the phrase itself names. */
export interface Match {
  readonly from: number;
  readonly to: number;
  readonly held: ReadonlySet<number>;
}

const WIDE = 4;
const APART = 7;

export function phraseOf(written: string): Phrase {
  const [body = "", unless = ""] = written.split(/\s!\s/u);
  const sides = body.split("&").map((side) => {
    const elements: Element[] = [];
    let gap = 0;
    for (const piece of side.trim().split(/[\s-]+/u)) {
      if (piece === "..") {
        gap = WIDE;
        continue;
      }
      const alternatives = piece.split("|").map(foldProse);
      elements.push({
        stems: new Set(
          alternatives.filter((a) => !a.endsWith("*")).map((a) => stemOf(a.replaceAll("'", ""))),
        ),
        beginnings: alternatives.filter((a) => a.endsWith("*")).map((a) => a.slice(0, -1)),
        gap,
      });
      gap = 0;
    }
    return elements;
  });
  return {
    sides,
    unless: new Set(
      unless
        .split(/[\s|]+/u)
        .filter(Boolean)
        .map((w) => stemOf(foldProse(w))),
    ),
  };
}

/** Every stem a phrase names, for catching slips. */
export const stemsOf = (phrase: Phrase): string[] =>
  phrase.sides.flatMap((side) => side.flatMap((e) => [...e.stems]));

/** Where the phrase stands in a sentence; each start at most once. */
export function matches(phrase: Phrase, sentence: Sentence, fillers: ReadonlySet<string>): Match[] {
  const [first = [], ...others] = phrase.sides;
  const hindered = (m: Match) =>
    phrase.unless.size > 0 &&
    sentence.some((t) => t.part === sentence[m.from]?.part && phrase.unless.has(t.stem));
  return sentence.flatMap((_, at) => {
    const found = standsAt(first, sentence, at, fillers);
    if (!found || hindered(found)) return [];
    if (others.length === 0) return [found];
    const all = others.map((side) => nearBy(side, sentence, found, fillers));
    if (all.some((m) => m === undefined)) return [];
    return [[found, ...(all as Match[])].reduce(joined)];
  });
}

const joined = (a: Match, b: Match): Match => ({
  from: Math.min(a.from, b.from),
  to: Math.max(a.to, b.to),
  held: new Set([...a.held, ...b.held]),
});

function nearBy(
  side: readonly Element[],
  sentence: Sentence,
  to: Match,
  fillers: ReadonlySet<string>,
): Match | undefined {
  const part = sentence[to.from]?.part;
  let best: Match | undefined;
  for (let at = Math.max(0, to.from - APART - 2); at <= to.to + APART && at < sentence.length; at++) {
    if (sentence[at]?.part !== part || to.held.has(at)) continue;
    const found = standsAt(side, sentence, at, fillers);
    if (!found) continue;
    const apart = found.from > to.to ? found.from - to.to : to.from - found.to;
    if (apart > APART) continue;
    if (!best || Math.abs(found.from - to.from) < Math.abs(best.from - to.from)) best = found;
  }
  return best;
}

function standsAt(
  side: readonly Element[],
  sentence: Sentence,
  at: number,
  fillers: ReadonlySet<string>,
): Match | undefined {
  const held = new Set<number>();
  let here = at;
  for (const [i, element] of side.entries()) {
    let skipped = 0;
    while (i > 0 && !fits(element, sentence[here])) {
      const token = sentence[here];
      if (!token || token.part !== sentence[at]?.part) return undefined;
      skipped += 1;
      if (skipped > element.gap && !fillers.has(token.word)) return undefined;
      if (skipped > element.gap + 3) return undefined;
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

/** The sentence with slips of the keyboard put right: a word in no list, one slip from a word of a phrase. */
export function mended(
  sentence: Sentence,
  vocabulary: ReadonlyMap<string, readonly string[]>,
  known: ReadonlySet<string>,
): Sentence {
  return sentence.map((token) => {
    if (known.has(token.stem) || known.has(token.word) || token.word.length < 5 || /\d/u.test(token.word))
      return token;
    const near = (vocabulary.get(token.word.charAt(0)) ?? []).filter((stem) => isSlip(token.stem, stem));
    return near[0] !== undefined ? { ...token, stem: near[0], word: near[0] } : token;
  });
}

function isSlip(written: string, meant: string): boolean {
  if (meant.length < 5) return false;
  const most = meant.length >= 9 ? 2 : 1;
  return (
    (Math.abs(written.length - meant.length) <= most && distance(written, meant) <= most) ||
    swapped(written, meant)
  );
}

/** Two neighbouring letters changed places. */
function swapped(written: string, meant: string): boolean {
  if (written.length !== meant.length) return false;
  const at = [...written].findIndex((letter, i) => letter !== meant[i]);
  if (at < 0) return false;
  return (
    written[at] === meant[at + 1] &&
    written[at + 1] === meant[at] &&
    written.slice(at + 2) === meant.slice(at + 2)
  );
}
