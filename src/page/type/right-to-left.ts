/** Mixed-direction text -> pieces in the order they stand on the line, left to right. */
import { createRequire } from "node:module";
import type { Bidi } from "bidi-js";

export interface Piece {
  readonly text: string;
  /** True for a right-to-left passage: it is kept on one line, since the engine breaks lines from left to right. */
  readonly whole: boolean;
  /** For passages of several pieces, such as words round a number: the passage as it is read. */
  readonly reading?: string;
}

/** Longest right-to-left passage that is set: a name or a short phrase. */
const LONGEST = 60;

let bidi: Bidi | undefined;

/**
 * Pieces in visual order for text in a left-to-right paragraph, or undefined when a passage is longer than a line can hold.
 * Inside a piece the characters stay in reading order: the typeface's shaping turns right-to-left words round by itself, and
 * no-break spaces keep a passage together so that its words are turned round with it.
 */
export function rightToLeftRuns(text: string): Piece[] | undefined {
  bidi ??= (createRequire(import.meta.url)("bidi-js") as () => Bidi)();
  const { levels } = bidi.getEmbeddingLevels(text, "ltr");
  const pieces: { text: string; level: number; start: number }[] = [];
  for (let i = 0; i < text.length; i += 1) {
    const level = levels[i] ?? 0;
    const last = pieces[pieces.length - 1];
    if (last && last.level === level) last.text += text[i];
    else pieces.push({ text: text[i] ?? "", level, start: i });
  }
  // Rule L2: from the highest level down, turn round every run of pieces at that level or above.
  const highest = Math.max(...pieces.map((piece) => piece.level));
  for (let level = highest; level >= 1; level -= 1) {
    for (let from = 0; from < pieces.length; from += 1) {
      if ((pieces[from]?.level ?? 0) < level) continue;
      let to = from;
      while ((pieces[to + 1]?.level ?? 0) >= level) to += 1;
      pieces.splice(from, to - from + 1, ...pieces.slice(from, to + 1).reverse());
      from = to;
    }
  }
  if (pieces.some((piece) => piece.level > 0 && piece.text.length > LONGEST)) return undefined;
  return pieces.map((piece, i) => {
    if (piece.level === 0) return { text: piece.text, whole: false };
    let from = i;
    while ((pieces[from - 1]?.level ?? 0) > 0) from -= 1;
    let to = i;
    while ((pieces[to + 1]?.level ?? 0) > 0) to += 1;
    const passage = pieces.slice(from, to + 1).sort((a, b) => a.start - b.start);
    return {
      text: piece.text.replaceAll(" ", "\u00a0"),
      whole: true,
      ...(passage.length > 1 ? { reading: passage.map(({ text: words }) => words).join("") } : {}),
    };
  });
}
