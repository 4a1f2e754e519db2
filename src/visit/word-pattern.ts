/** Accepted spellings as one regular expression without flags, for JSON Schema, which has none. */
import { foldSpelling, SPELLED_TWO_WAYS, singular } from "./spelling.js";

/**
 * A pattern that takes what a vocabulary of these `spellings` takes: any case, hyphen, underscore or space, plural or
 * not, British or US. With `exact`, case alone is free.
 */
export function wordPattern(spellings: readonly string[], how: "loose" | "exact" = "loose"): string {
  const bodies = new Set(spellings.map((word) => (how === "exact" ? word : singular(foldSpelling(word)))));
  return `^\\s*(?:${[...bodies].map((word) => pattern(word, how)).join("|")})\\s*$`;
}

const GAP = "[\\s_\\u2010\\u2011\\u2012\\u2013-]+";

function pattern(folded: string, how: "loose" | "exact"): string {
  return folded
    .split(" ")
    .map((word) => (how === "exact" ? anyCase(word) : anyNumber(word)))
    .join(GAP);
}

function anyNumber(word: string): string {
  if (/[a-z]y$/u.test(word))
    return `(?:${eitherSpelling(word)}[Ss]?|${eitherSpelling(word.slice(0, -1))}[Ii][Ee][Ss])`;
  if (/(?:x|ch|sh)$/u.test(word)) return `${eitherSpelling(word)}(?:[Ee]?[Ss])?`;
  return `${eitherSpelling(word)}[Ss]?`;
}

function eitherSpelling(word: string): string {
  for (const [british, us] of SPELLED_TWO_WAYS) {
    const at = word.indexOf(us);
    if (at === -1) continue;
    return `${eitherSpelling(word.slice(0, at))}(?:${anyCase(british)}|${anyCase(us)})${eitherSpelling(word.slice(at + us.length))}`;
  }
  return anyCase(word);
}

/** A text in any case. */
export function anyCase(text: string): string {
  return [...text]
    .map((ch) => {
      const upper = ch.toUpperCase();
      if (upper !== ch && [...upper].length === 1) return `[${upper}${ch}]`;
      return ch.replace(/[\\^$.*+?()[\]{}|/]/gu, "\\$&");
    })
    .join("");
}
