/** Spellings that count as one: case, hyphens, plural endings, British and US. */
import { foldWord } from "../base/nearest.js";

/** British against US spelling inside trade words; both read as the second. */
export const SPELLED_TWO_WAYS: readonly (readonly [string, string])[] = [
  ["haem", "hem"],
  ["oedema", "edema"],
  ["colour", "color"],
  ["grey", "gray"],
  ["fibre", "fiber"],
  ["ised", "ized"],
  ["ising", "izing"],
  ["centre", "center"],
];

/** `Hair-Shaft  Haemorrhages` -> `hair shaft hemorrhages` */
export function foldSpelling(word: string): string {
  let folded = foldWord(word);
  for (const [british, us] of SPELLED_TWO_WAYS) folded = folded.replaceAll(british, us);
  return folded;
}

/** Every word without its plural ending; crude, but the same on both sides of a comparison. */
export function singular(folded: string): string {
  return folded
    .split(" ")
    .map((word) =>
      word.length < 4
        ? word
        : word
            .replace(/ies$/u, "y")
            .replace(/(x|ch|sh)es$/u, "$1")
            .replace(/([^s])s$/u, "$1"),
    )
    .join(" ");
}
