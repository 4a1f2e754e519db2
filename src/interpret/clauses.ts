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

/** Words to look for, in a row. */
export type Phrase = readonly { readonly word: string; readonly beginning: boolean }[];

/** `scaly patch` or, for any word that begins so, `metast*`. */
export function phraseOf(text: string): Phrase {
  return (foldWord(text).match(/[\p{L}\p{N}'’]+\*?/gu) ?? []).map((word) => ({
    word: word.replace(/\*$/u, ""),
    beginning: word.endsWith("*"),
  }));
}

/**
 * True when one of the phrases stands in one of the clauses, whole words; false where a denying word stands within reach before
 * it (`no itch`, `denies pulling`).
 */
export function mentionsAny(text: readonly Clause[], phrases: readonly Phrase[], denial: Denial): boolean {
  for (const clause of text) for (const phrase of phrases) if (mentions(clause, phrase, denial)) return true;
  return false;
}

function mentions(clause: Clause, phrase: Phrase, denial: Denial): boolean {
  for (let at = 0; at + phrase.length <= clause.length; at++) {
    if (standsAt(clause, at, phrase) && !denied(clause, at, denial)) return true;
  }
  return false;
}

/** True when one of the phrases stands there, denied or not. */
export function namesAny(text: readonly Clause[], phrases: readonly Phrase[]): boolean {
  return text.some((clause) =>
    phrases.some((phrase) => clause.some((_, at) => standsAt(clause, at, phrase))),
  );
}

function standsAt(clause: Clause, at: number, phrase: Phrase): boolean {
  for (let i = 0; i < phrase.length; i++) {
    const [here, wanted] = [clause[at + i], phrase[i]];
    if (!here || !wanted) return false;
    if (wanted.beginning ? !here.startsWith(wanted.word) : here !== wanted.word) return false;
  }
  return true;
}

function denied(clause: Clause, at: number, denial: Denial): boolean {
  const before = clause.slice(Math.max(0, at - denial.reach), at);
  return denyingWords(denial).some((parts) =>
    before.some((_, i) => parts.every((p, j) => before[i + j] === p.word)),
  );
}

const denying = new WeakMap<Denial, readonly Phrase[]>();

function denyingWords(denial: Denial): readonly Phrase[] {
  const found = denying.get(denial) ?? denial.words.map(phraseOf);
  denying.set(denial, found);
  return found;
}
