/** Wrapping for fixed columns. */
import { once } from "../../base/once.js";

export type Lines = readonly string[];

const graphemes = once(() => new Intl.Segmenter("und", { granularity: "grapheme" }));
const WIDE =
  /[\p{Script=Han}\p{Script=Hangul}\p{Script=Hiragana}\p{Script=Katakana}\u{ff01}-\u{ff60}\p{Emoji_Presentation}]/u;

/** Columns `text` takes in a fixed-width face; East Asian characters take two. */
export function columnsOf(text: string): number {
  if (/^[\x20-\x7e]*$/.test(text)) return text.length;
  let columns = 0;
  for (const { segment } of graphemes().segment(text)) columns += WIDE.test(segment) ? 2 : 1;
  return columns;
}

function splitLong(word: string, width: number): string[] {
  if (columnsOf(word) <= width) return [word];
  const parts: string[] = [""];
  for (const { segment } of graphemes().segment(word)) {
    const last = parts.length - 1;
    if (columnsOf((parts[last] ?? "") + segment) > width) parts.push(segment);
    else parts[last] += segment;
  }
  return parts;
}

/** Breaks `text` at spaces into lines of at most `width` columns; a longer word is cut. Line ends in `text` stay. */
export function wrap(text: string, width: number): string[] {
  const room = Math.max(8, width);
  return text.split("\n").flatMap((paragraph) => {
    const lines: string[] = [];
    let line = "";
    for (const word of paragraph.split(/[ \t]+/).flatMap((whole) => splitLong(whole, room))) {
      const longer = line === "" ? word : `${line} ${word}`;
      if (line !== "" && columnsOf(longer) > room) {
        lines.push(line);
        line = word;
      } else line = longer;
    }
    return [...lines, line];
  });
}

/** Puts `first` before the first line and `rest` before the others. */
export function indent(lines: Lines, rest: string, first: string): string[] {
  return lines.map((line, i) => (line === "" ? "" : (i === 0 ? first : rest) + line));
}

/** Pads `text` with spaces to `width` columns, at the right or, for numbers, at the left. */
export function pad(text: string, width: number, atLeft: boolean): string {
  const space = " ".repeat(Math.max(0, width - columnsOf(text)));
  return atLeft ? space + text : text + space;
}
