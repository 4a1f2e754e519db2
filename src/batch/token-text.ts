/** Text -> words without case, punctuation and line breaks, so that print and record can be compared word for word. */

const WORD = /[\p{L}\p{M}\p{N}]+/gu;

/** A word this long may be broken at the end of a line. */
export const MAY_BREAK = 12;

/** `Ms Solheim-Adeyemi, no. TS-40417` -> `ms solheim adeyemi no ts 40417`, as an array. */
export function tokensOf(text: string): string[] {
  return (
    text
      .normalize("NFKC")
      .replace(/\p{Cf}/gu, "")
      .toLowerCase()
      .match(WORD) ?? []
  );
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

/** `tokens` without the last place where `wanted` stands; unchanged when it stands nowhere. */
export function withoutLast(tokens: readonly string[], wanted: readonly string[]): string[] {
  for (let i = tokens.length - 1; i >= 0 && wanted.length > 0; i -= 1) {
    const length = matchAt(tokens, i, wanted);
    if (length > 0) return [...tokens.slice(0, i), ...tokens.slice(i + length)];
  }
  return [...tokens];
}
