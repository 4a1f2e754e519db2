/** Text -> words without case, punctuation and line breaks, so that print and record can be compared word for word. */

const WORD = /[\p{L}\p{M}\p{N}]+/gu;

/**
 * Scripts that write some vowels before the letter they are read after. A page gives its signs back in the order in which they
 * stand, so the signs of such a word are compared in one order of their own: all there, none added, whatever their places.
 */
const MOVED =
  /[\p{Script=Devanagari}\p{Script=Bengali}\p{Script=Gurmukhi}\p{Script=Gujarati}\p{Script=Oriya}\p{Script=Tamil}\p{Script=Telugu}\p{Script=Kannada}\p{Script=Malayalam}\p{Script=Sinhala}\p{Script=Myanmar}\p{Script=Khmer}]/u;

const settled = (word: string): string => (MOVED.test(word) ? [...word].sort().join("") : word);

/** A word this long may be broken at the end of a line. */
export const MAY_BREAK = 12;

/** `Ms Solheim-Adeyemi, no. TS-40417` -> `ms solheim adeyemi no ts 40417`, as an array. */
export function tokensOf(text: string): string[] {
  const plain = text
    .normalize("NFKC")
    .replace(/\p{Cf}/gu, "")
    .toLowerCase();
  return (plain.match(WORD) ?? []).map(settled);
}

/** Words with the signs around them: `gaps[i]` stands before word i, the last one after the last word; null where unknown. */
export interface Spelled {
  readonly words: readonly string[];
  readonly gaps: readonly (string | null)[];
}

/** The words of a text as `tokensOf` gives them, and the signs between them, without spaces. */
export function spelled(text: string): Spelled {
  const plain = text
    .normalize("NFKC")
    .replace(/\p{Cf}/gu, "")
    .toLowerCase();
  const words: string[] = [];
  const gaps: string[] = [];
  let end = 0;
  for (const match of plain.matchAll(WORD)) {
    gaps.push(signsIn(plain.slice(end, match.index)));
    words.push(settled(match[0]));
    end = match.index + match[0].length;
  }
  gaps.push(signsIn(plain.slice(end)));
  return { words, gaps };
}

/**
 * Every dash is one sign, as on many keyboards; a plus, a sign of comparison, a per cent or a decimal point is its own. The dot
 * of a list is left out: the engine draws it after the first line of its item.
 */
function signsIn(text: string): string {
  return text.replace(/[\s•]+/gu, "").replace(/\p{Pd}|\u2212/gu, "-");
}

/** Without the words from `start` to `end`; what stood around them is no longer known. */
export function withoutWords({ words, gaps }: Spelled, start: number, end: number): Spelled {
  return {
    words: [...words.slice(0, start), ...words.slice(end)],
    gaps: [...gaps.slice(0, start), null, ...gaps.slice(end + 1)],
  };
}

/** True when `wanted` stands somewhere in `text`, word for word and with the same signs between its words and at its ends. */
export function holdsSpelled(text: Spelled, wanted: Spelled): boolean {
  for (
    let at = findTokens(text.words, wanted.words);
    at >= 0;
    at = findTokens(text.words, wanted.words, at + 1)
  )
    if (signsAgree(text, at, wanted)) return true;
  return false;
}

function signsAgree(text: Spelled, at: number, wanted: Spelled): boolean {
  let here = at;
  return wanted.gaps.every((gap, i) => {
    const found = text.gaps[here];
    const word = wanted.words[i];
    if (word !== undefined) here += matchAt(text.words, here, [word]);
    if (found === null || found === undefined || gap === null) return true;
    if (i === 0) return found.endsWith(gap);
    return i === wanted.words.length ? found.startsWith(gap) : found === gap;
  });
}

/** How many tokens from `at` spell out `wanted`, or 0. A long word may stand in two or more parts. */
export function matchAt(tokens: readonly string[], at: number, wanted: readonly string[]): number {
  let here = at;
  for (const word of wanted) {
    let found = tokens[here];
    if (found === undefined) return 0;
    here += 1;
    while (found !== word) {
      const more: string | undefined = tokens[here];
      if (word.length < MAY_BREAK || !word.startsWith(found) || more === undefined) return 0;
      found += more;
      here += 1;
    }
  }
  return here - at;
}

/** Index of the first place from `from` where `wanted` stands, or -1. An empty `wanted` is found nowhere. */
export function findTokens(tokens: readonly string[], wanted: readonly string[], from = 0): number {
  if (wanted.length === 0) return -1;
  for (let i = from; i < tokens.length; i += 1) if (matchAt(tokens, i, wanted) > 0) return i;
  return -1;
}

export function holdsTokens(tokens: readonly string[], wanted: readonly string[]): boolean {
  return findTokens(tokens, wanted) >= 0;
}

/** `text` without the last place where `wanted` stands; unchanged when it stands nowhere. */
export function withoutLast(text: Spelled, wanted: readonly string[]): Spelled {
  for (let i = text.words.length - 1; i >= 0 && wanted.length > 0; i -= 1) {
    const length = matchAt(text.words, i, wanted);
    if (length > 0) return withoutWords(text, i, i + length);
  }
  return text;
}
