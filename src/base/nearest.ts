/** Finds the word someone meant. */
import { distance } from "fastest-levenshtein";

/** Folds case, hyphens, underscores and runs of space, so that `Yellow-Dots` and `yellow dots` compare equal. */
export function foldWord(word: string): string {
  return word
    .normalize("NFC")
    .toLowerCase()
    .replace(/[\s_‐‑‒–-]+/gu, " ")
    .trim();
}

/**
 * The candidates nearest to `word`, ties together, or an empty list when nothing is near.
 * Near means at most one slip in three letters, so that short words need a closer match.
 */
export function nearestWords(word: string, candidates: Iterable<string>): string[] {
  const wanted = foldWord(word).slice(0, 80);
  const limit = Math.max(1, Math.floor(wanted.length / 3));
  let best = limit + 1;
  let found: string[] = [];
  for (const candidate of candidates) {
    const d = distance(wanted, foldWord(candidate));
    if (d < best) {
      best = d;
      found = [candidate];
    } else if (d === best && d <= limit && !found.includes(candidate)) {
      found.push(candidate);
    }
  }
  return found;
}
