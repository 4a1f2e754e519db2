/** Words that belong together on one line: grouped digits, a number with its unit, a day with its month, a postal code. */

/**
 * Digits in groups (telephone numbers, thousands); a number with per cent or unit; a number before a capital (19 January,
 * 4 Ropewalk Steps); a postal code in two parts.
 */
const BOUND =
  /(?<![\p{L}\d.])(?:\d+(?: \d+)+(?: %)?|[\d.]+ (?:%|mm|cm|µm|ml)|\d{1,3}\.? \p{Lu}\p{L}+|\p{Lu}{1,2}\d[\p{Lu}\d]? \d\p{Lu}{2})(?![\p{L}\d])/gu;

/** A longer run has to be free to break. */
const LONGEST = 24;

export interface Bound {
  readonly text: string;
  readonly isBound: boolean;
}

/** Splits text into pieces, some of which are to stay on one line. */
export function bindWords(text: string): Bound[] {
  const pieces: Bound[] = [];
  let from = 0;
  for (const match of text.matchAll(BOUND)) {
    if (match[0].length > LONGEST) continue;
    if (match.index > from) pieces.push({ text: text.slice(from, match.index), isBound: false });
    pieces.push({ text: match[0], isBound: true });
    from = match.index + match[0].length;
  }
  if (from < text.length) pieces.push({ text: text.slice(from), isBound: false });
  return pieces;
}

/** The text with no-break spaces where words are bound, for counting lines. */
export function withBoundSpaces(text: string): string {
  return bindWords(text)
    .map((piece) => (piece.isBound ? piece.text.replaceAll(" ", "\u00a0") : piece.text))
    .join("");
}
