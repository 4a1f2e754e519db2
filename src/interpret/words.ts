/** Looks for words in what a clinician wrote, and leaves out those that are denied just before. */
import { foldWord } from "../base/nearest.js";
import type { Weighing } from "../knowledge/weighing-schema.js";

/** A clause as folded words; denials reach no further than its start. */
export type Clause = readonly string[];
type Denial = Weighing["denial"];

/** Splits free text into clauses of folded words. */
export function clauses(text: string, denial: Denial): Clause[] {
  const result: string[][] = [];
  for (const part of text.split(/[.;:!?\n]+(?:\s|$)/u)) {
    let clause: string[] = [];
    for (const token of foldWord(part).match(/[\p{L}\p{N}'’]+/gu) ?? []) {
      if (denial.breaks.includes(token)) {
        result.push(clause);
        clause = [];
      } else clause.push(token);
    }
    result.push(clause);
  }
  return result.filter((c) => c.length > 0);
}

/**
 * True when the phrase stands in the clause, whole words, each word matching exactly or, with a closing `*`, by its beginning;
 * false where a denying word stands within reach before it (`no itch`, `denies pulling`).
 */
export function mentions(clause: Clause, phrase: string, denial: Denial): boolean {
  const words = phraseWords(phrase);
  for (let at = 0; at + words.length <= clause.length; at++) {
    if (words.every((w, i) => matches(clause[at + i] ?? "", w)) && !denied(clause, at, denial)) return true;
  }
  return false;
}

function denied(clause: Clause, at: number, denial: Denial): boolean {
  const before = clause.slice(Math.max(0, at - denial.reach), at);
  return denial.words.some((word) => {
    const parts = phraseWords(word);
    return before.some((_, i) => parts.every((p, j) => before[i + j] === p));
  });
}

const phraseCache = new Map<string, readonly string[]>();

function phraseWords(phrase: string): readonly string[] {
  let words = phraseCache.get(phrase);
  if (!words) {
    words = foldWord(phrase).match(/[\p{L}\p{N}'’]+\*?/gu) ?? [];
    phraseCache.set(phrase, words);
  }
  return words;
}

function matches(word: string, wanted: string): boolean {
  return wanted.endsWith("*") ? word.startsWith(wanted.slice(0, -1)) : word === wanted;
}
