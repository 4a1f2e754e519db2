/** Words that look Latin and are written in another script, so that two names look the same and are not. */
import { seenAs } from "../base/look-alike.js";

/** The word in the Latin letters it looks like, where it looks Latin and is not; undefined for any other. */
export function latinLookOf(word: string): string | undefined {
  const letters = [...word].filter((ch) => /\p{L}/u.test(ch));
  const isFullWidth = /[\uff01-\uff5e]/u.test(word);
  if (isFullWidth) return word.normalize("NFKC");
  if (letters.length === 0 || letters.some((ch) => /\p{Script=Latin}/u.test(ch))) return undefined;
  // Figures are left as they are: in that table a nought looks like the letter O.
  const seen = [...word].map((ch) => (/\p{L}/u.test(ch) ? seenAs(ch) : ch)).join("");
  return /^[\p{ASCII}]+$/u.test(seen) ? seen : undefined;
}
