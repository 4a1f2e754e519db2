/** Which words of the glossary a text uses and does not explain itself. */
import type { Words } from "./phrases.js";

/**
 * Glossary entries whose word stands in the text, in the order of the alphabet; longer words first claim their place. A word
 * that the text itself explains where it first stands, as in `thyroid (a gland in the neck)`, is left out.
 */
export function wordsUsed(
  text: string,
  glossary: Readonly<Record<string, string>>,
  words: Pick<Words, "glossary_endings" | "language">,
): { word: string; means: string }[] {
  let rest = text;
  const used: { word: string; means: string }[] = [];
  const endings = words.glossary_endings.join("|");
  const lower = text.toLowerCase();
  for (const { word, means, small } of longestFirst(glossary)) {
    if (!lower.includes(small)) continue;
    const pattern = new RegExp(
      `(?<![\\p{L}])${word.replace(/[.*+?^${}()|[\]\\]/gu, "\\$&")}(?:${endings})?(?![\\p{L}])`,
      "giu",
    );
    const first = pattern.exec(rest);
    if (!first) continue;
    const isExplained = /^(?:\s+\p{L}+)?\s*\(/u.test(rest.slice(first.index + first[0].length));
    rest = rest.replaceAll(pattern, " ");
    if (!isExplained) used.push({ word, means });
  }
  return used.sort((a, b) => a.word.localeCompare(b.word, words.language));
}

interface GlossaryWord {
  readonly word: string;
  readonly means: string;
  readonly small: string;
}

const sorted = new WeakMap<Readonly<Record<string, string>>, GlossaryWord[]>();

/** The entries of a glossary by length of word, sorted once. */
function longestFirst(glossary: Readonly<Record<string, string>>): GlossaryWord[] {
  const known = sorted.get(glossary);
  if (known) return known;
  const entries = Object.entries(glossary)
    .sort((a, b) => b[0].length - a[0].length)
    .map(([word, means]) => ({ word, means, small: word.toLowerCase() }));
  sorted.set(glossary, entries);
  return entries;
}
