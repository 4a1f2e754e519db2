/** Slips of the keyboard in free text, put right where a word is one slip from a word of a phrase. */
import { distance } from "fastest-levenshtein";
import { spellingsOf, type WordSet } from "./phrases.js";
import { type Sentence, stemOf } from "./tokens.js";

/** Spellings of the phrases by their first letter, parted by spaces; beginnings of words end in `*`. */
export type Spellings = Readonly<Record<string, string>>;

export function spellingsIn(sets: readonly WordSet[]): Spellings {
  const byLetter: Record<string, string> = {};
  const said = new Set<string>();
  for (const set of sets) {
    for (const { word, beginning } of spellingsOf(set)) {
      if (word.length < 5 || said.has(word)) continue;
      said.add(word);
      const before = byLetter[word.charAt(0)];
      byLetter[word.charAt(0)] = `${before === undefined ? "" : `${before} `}${word}${beginning ? "*" : ""}`;
    }
  }
  return byLetter;
}

/** The sentence with slips of the keyboard put right: a word in no list, one slip from a word of a phrase. */
export function mended(sentence: Sentence, spellings: Spellings, known: ReadonlySet<string>): Sentence {
  return sentence.map((token) => {
    if (known.has(token.stem) || known.has(token.word) || token.word.length < 5 || /\d/u.test(token.word))
      return token;
    const alike = (spellings[token.word.charAt(0)] ?? "").split(" ");
    if (alike.some((word) => word.endsWith("*") && token.word.startsWith(word.slice(0, -1)))) return token;
    const near = alike.find((word) => {
      if (!word.endsWith("*")) return isSlip(token.word, word);
      const beginning = word.slice(0, -1);
      return [-1, 0, 1].some((more) => isSlip(token.word.slice(0, beginning.length + more), beginning));
    });
    if (near === undefined) return token;
    const word = near.replace("*", "");
    return { ...token, word, stem: near.endsWith("*") ? word : stemOf(word) };
  });
}

function isSlip(written: string, meant: string): boolean {
  if (meant.length < 5 || written.length < 5) return false;
  const most = meant.length >= 9 ? 2 : 1;
  const close = Math.abs(written.length - meant.length) <= most && distance(written, meant) <= most;
  return close || swapped(written, meant);
}

/** Two neighbouring letters changed places. */
function swapped(written: string, meant: string): boolean {
  if (written.length !== meant.length) return false;
  const at = [...written].findIndex((letter, i) => letter !== meant[i]);
  return (
    at >= 0 &&
    written[at] === meant[at + 1] &&
    written[at + 1] === meant[at] &&
    written.slice(at + 2) === meant.slice(at + 2)
  );
}
