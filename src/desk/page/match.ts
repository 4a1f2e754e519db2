/** Finds words by a few letters, in any accepted spelling: the start of a word counts most, a slip is forgiven. */
import { nearestWords } from "../../base/nearest.js";
import { foldSpelling } from "../../visit/spelling.js";
import type { WordEntry } from "../messages.js";

export interface Match<T extends WordEntry> {
  readonly entry: T;
  /** The spelling that fitted, when it is not the term itself. */
  readonly by: string | null;
}

const MOST = 8;

/** The best few entries for what was typed; none for nothing. */
export function matches<T extends WordEntry>(typed: string, entries: readonly T[]): Match<T>[] {
  const wanted = foldSpelling(typed);
  if (wanted === "") return [];
  const parts = wanted.split(" ");
  const scored = entries.flatMap((entry) => {
    const best = [entry.term, ...entry.also]
      .map((spelling, i) => ({
        spelling,
        score: score(foldSpelling(spelling), wanted, parts) + (i === 0 ? 0 : 0.5),
      }))
      .reduce((a, b) => (b.score < a.score ? b : a));
    return best.score < 9
      ? [{ entry, by: best.spelling === entry.term ? null : best.spelling, score: best.score }]
      : [];
  });
  if (scored.length > 0)
    return scored
      .sort((a, b) => a.score - b.score || a.entry.term.length - b.entry.term.length)
      .slice(0, MOST);
  const near = nearestWords(
    typed,
    entries.flatMap(({ term, also }) => [term, ...also]),
  ).slice(0, MOST);
  return near.flatMap((spelling) => {
    const entry = entries.find(({ term, also }) => term === spelling || also.includes(spelling));
    return entry ? [{ entry, by: spelling === entry.term ? null : spelling }] : [];
  });
}

/** 0 is the word itself, 9 no match. */
function score(spelling: string, wanted: string, parts: readonly string[]): number {
  if (spelling === wanted) return 0;
  if (spelling.startsWith(wanted)) return 1;
  const words = spelling.split(" ");
  if (parts.every((part) => words.some((word) => word.startsWith(part))))
    return words[0]?.startsWith(parts[0] ?? "") ? 2 : 3;
  return spelling.includes(wanted) ? 4 : 9;
}
