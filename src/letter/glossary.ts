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
  for (const { word, means, small, patterns } of longestFirst(glossary)) {
    if (!lower.includes(small)) continue;
    const pattern = patterns.get(endings) ?? patternOf(word, endings);
    patterns.set(endings, pattern);
    pattern.lastIndex = 0;
    const first = pattern.exec(rest);
    if (!first) continue;
    const isExplained = /^(?:\s+\p{L}+)?\s*\(/u.test(rest.slice(first.index + first[0].length));
    rest = rest.replaceAll(pattern, " ");
    if (!isExplained) used.push({ word, means });
  }
  return used.sort((a, b) => a.word.localeCompare(b.word, words.language));
}

function patternOf(word: string, endings: string): RegExp {
  const literal = word.replace(/[.*+?^${}()|[\]\\]/gu, "\\$&");
  return new RegExp(`(?<![\\p{L}])${literal}(?:${endings})?(?![\\p{L}])`, "giu");
}

interface GlossaryWord {
  readonly word: string;
  readonly means: string;
  readonly small: string;
  /** By the endings a word may take, made on first use. */
  readonly patterns: Map<string, RegExp>;
}

const sorted = new WeakMap<Readonly<Record<string, string>>, GlossaryWord[]>();

/** The entries of a glossary by length of word, sorted once. */
function longestFirst(glossary: Readonly<Record<string, string>>): GlossaryWord[] {
  const known = sorted.get(glossary);
  if (known) return known;
  const entries = Object.entries(glossary)
    .sort((a, b) => b[0].length - a[0].length)
    .map(([word, means]) => ({ word, means, small: word.toLowerCase(), patterns: new Map() }));
  sorted.set(glossary, entries);
  return entries;
}
