/** The words a composed letter should print, taken from its HTML by another parser than the page's own. */
import { Parser } from "htmlparser2";
import type { Letter } from "../../letter/document.js";
import { holdsSpelled, holdsTokens, type Spelled, spelled } from "../token-text.js";

export interface LetterWords {
  /** How often each word stands in the letter. */
  readonly counts: ReadonlyMap<string, number>;
  /** Words the page may add: table heads on a new page, numbers of a list. */
  readonly mayRepeat: ReadonlySet<string>;
  /** The words of each paragraph, cell, item or label, in their order. */
  readonly passages: readonly Spelled[];
}

const RIGHT_TO_LEFT = /[\p{Script=Arabic}\p{Script=Hebrew}]/u;

function hasRightToLeft(text: string): boolean {
  return RIGHT_TO_LEFT.test(text);
}

/** Not printed: drawings carry these for screen readers and as spare parts. */
const UNPRINTED = new Set(["title", "desc", "style", "defs", "symbol", "metadata", "script"]);
const BLOCKS = /^(?:p|li|td|th|tr|dt|dd|h[1-6]|br|div|section|aside|text|tspan|caption|figcaption|address)$/u;

export function letterWords(letter: Letter): LetterWords {
  const counts = new Map<string, number>();
  const mayRepeat = new Set<string>();
  let unprinted = 0;
  let inHead = 0;
  let items = 0;
  let words = "";
  const passages: Spelled[] = [];
  const flush = () => {
    const passage = spelled(words);
    const tokens = passage.words;
    // Right-to-left words with numbers are drawn in the order they are seen in.
    if (tokens.length > 0 && !hasRightToLeft(words)) passages.push(passage);
    for (const token of tokens) {
      counts.set(token, (counts.get(token) ?? 0) + 1);
      if (inHead > 0) mayRepeat.add(token);
    }
    words = "";
  };
  const parser = new Parser(
    {
      onopentagname(name) {
        if (BLOCKS.test(name) || name === "thead") flush();
        if (UNPRINTED.has(name)) unprinted += 1;
        if (name === "thead") inHead += 1;
        if (name === "li") {
          items += 1;
          mayRepeat.add(String(items));
        }
      },
      ontext(text) {
        if (unprinted === 0) words += text;
      },
      onclosetag(name) {
        if (BLOCKS.test(name) || name === "thead") flush();
        if (UNPRINTED.has(name)) unprinted -= 1;
        if (name === "thead") inHead -= 1;
      },
    },
    { xmlMode: false, decodeEntities: true, recognizeSelfClosing: true },
  );
  parser.write(letter.html);
  parser.end();
  flush();
  return { counts, mayRepeat, passages };
}

/** How many passages of `expected` do not stand in `printed` word after word. */
export function countMoved(expected: LetterWords, printed: Spelled): number {
  return expected.passages.filter((passage) => !holdsTokens(printed.words, passage.words)).length;
}

/** How many passages of `expected` stand in `printed` with other signs only: a point, a per cent, a minus is gone or another. */
export function countOtherSigns(expected: LetterWords, printed: Spelled): number {
  return expected.passages.filter((passage) => !holdsSpelled(printed, passage)).length;
}

/** Words of `expected` that `printed` lacks, and words of `printed` that `expected` lacks. */
export function compareWords(
  expected: LetterWords,
  printed: readonly string[],
): { missing: string[]; added: string[] } {
  const left = new Map(expected.counts);
  const extra: string[] = [];
  for (const token of printed) {
    const n = left.get(token) ?? 0;
    if (n > 0) left.set(token, n - 1);
    else extra.push(token);
  }
  const missing = [...left].filter(([, n]) => n > 0).map(([word]) => word);
  // A long word may be broken at the end of a line: then its parts are extra and the whole is missing.
  const broken = new Set(missing.filter((word) => piecedTogether(word, extra)));
  return {
    missing: missing.filter((word) => !broken.has(word)),
    added: extra.filter((w) => !expected.mayRepeat.has(w) && ![...broken].some((word) => word.includes(w))),
  };
}

function piecedTogether(word: string, parts: readonly string[]): boolean {
  for (let i = 0; i < parts.length; i += 1) {
    let whole = "";
    for (let j = i; j < parts.length && word.startsWith(whole); j += 1) {
      whole += parts[j];
      if (whole === word) return true;
    }
  }
  return false;
}
