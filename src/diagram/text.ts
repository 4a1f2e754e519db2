/** Sets short lines of type in drawings: how wide they come out, where to break them, how they are written. */
import { escapeXml } from "../base/text.js";
import { element } from "./svg.js";

/**
 * Widths of the printable ASCII characters in hundredths of an em: the wider of the regular and semibold cuts of
 * Noto Sans, in which the documents are set.
 */
const WIDTHS = (
  "26 28 46 65 58 88 75 25 33 33 56 58 28 33 28 40 58 58 58 58 58 58 58 58 58 58 28 28 58 58 58 47 " +
  "90 68 66 64 74 56 54 73 76 37 31 65 55 93 80 79 62 79 65 56 57 75 64 96 64 61 58 33 40 33 58 45 " +
  "34 59 63 51 63 59 38 63 64 29 29 59 29 96 64 62 63 63 44 50 41 64 55 83 57 55 49 39 56 39 58"
)
  .split(" ")
  .map((hundredths) => Number(hundredths) / 100);

/** An estimate of the width of `text` at `size`, in the same unit; rather a little wide than too narrow. */
export function textWidth(text: string, size: number): number {
  let ems = 0;
  // Accented letters are as wide as their base; the marks themselves take no room.
  for (const ch of text.normalize("NFD")) {
    const known = WIDTHS[(ch.codePointAt(0) ?? 0) - 32];
    if (ch === "\u00a0") ems += 0.26;
    else if (known !== undefined) ems += known;
    else if (/\p{M}/u.test(ch)) ems += 0;
    else if (/[\u1100-\u11ff\u2e80-\uffef]|[\u{1f000}-\u{3ffff}]/u.test(ch)) ems += 1;
    else ems += /\p{Lu}/u.test(ch) ? 0.85 : 0.72;
  }
  return ems * size;
}

/** Breaks `text` at spaces (never at no-break spaces) into lines at most `width` wide; a longer word is broken where it must be. */
export function wrap(text: string, size: number, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/[ \t\r\n]+/u).filter((w) => w !== "")) {
    const longer = line === "" ? word : `${line} ${word}`;
    if (textWidth(longer, size) <= width) {
      line = longer;
      continue;
    }
    if (line !== "") lines.push(line);
    line = "";
    for (const ch of word) {
      if (line !== "" && textWidth(line + ch, size) > width) {
        lines.push(line);
        line = "";
      }
      line += ch;
    }
  }
  return line === "" ? lines : [...lines, line];
}

/** The same in as many lines, narrower where that leaves no word alone on the last. */
export function wrapWell(text: string, size: number, width: number): string[] {
  const lines = wrap(text, size, width);
  const endsWell = (set: readonly string[]) => set.length === 1 || set.at(-1)?.includes(" ") === true;
  for (let narrower = width; narrower > width * 0.6; narrower -= size / 2) {
    const set = wrap(text, size, narrower);
    const cutsWord =
      set.join(" ").length !== lines.join(" ").length || set.some((line) => !text.includes(line));
    if (set.length > lines.length || cutsWord) break;
    if (endsWell(set)) return set;
  }
  return lines;
}

export interface TextLook {
  readonly size: number;
  readonly fill?: string;
  readonly anchor?: "start" | "middle" | "end";
  readonly bold?: boolean;
}

/** One line of type with its baseline at `y`. */
export function label(text: string, x: number, y: number, look: TextLook): string {
  return element(
    "text",
    {
      x,
      y,
      "font-size": look.size,
      "font-weight": look.bold === true ? "bold" : undefined,
      fill: look.fill ?? "#222222",
      "text-anchor": look.anchor === "start" ? undefined : look.anchor,
    },
    escapeXml(text),
  );
}
