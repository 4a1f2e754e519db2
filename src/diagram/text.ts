/** Sets short lines of type in drawings: how wide they come out, where to break them, how they are written. */
import { element, escapeXml } from "./svg.js";

/** An upper estimate of the width of `text` at `size`, in the same unit, for a humanist sans. */
export function textWidth(text: string, size: number): number {
  let ems = 0;
  for (const ch of text) {
    if (/[\u1100-\u11ff\u2e80-\uffef]|[\u{1f000}-\u{3ffff}]/u.test(ch)) ems += 1;
    else if (/[MWmw@%—]/u.test(ch)) ems += 0.92;
    else if (/[iljtfrI .,;:'|!()-]/u.test(ch)) ems += 0.37;
    else ems += /\p{Lu}/u.test(ch) ? 0.7 : 0.6;
  }
  return ems * size;
}

/** Breaks `text` at spaces into lines at most `width` wide; a longer word is broken where it must be. */
export function wrap(text: string, size: number, width: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(/\s+/u).filter((w) => w !== "")) {
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
