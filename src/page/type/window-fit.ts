/** How an address is set so that the envelope's window shows the whole of it, and how many lines the window takes. */
import { countLines } from "./fonts.js";
import { mm, type WindowPlace } from "./paper.js";
import type { Style } from "./scale.js";

/** Sizes below the usual one that an address may be set in. Postal services ask for 8 pt or more. Common practice, no source. */
const SMALLER = [9.5, 9, 8.5];

/** Leading of an address that is set smaller, in its own size. */
const CLOSE = 1.24;

/** Of a line, what hangs below the place it stands on and must still show. */
const SLACK = 1;

export interface WindowFit {
  /** The usual style, or the largest that shows every line; the smallest when none does. */
  readonly style: Style;
  readonly fits: boolean;
  /** Printed lines that the window takes at most. */
  readonly most: number;
}

/** `lines` as the visit has them, the name first; one that is too wide takes two. */
export function fitWindow(lines: readonly string[], place: WindowPlace, usual: Style): WindowFit {
  const height = mm(place.heightMm) + SLACK;
  const styles = [
    usual,
    ...SMALLER.filter((size) => size < usual.size).map((size) => ({ ...usual, size, leading: size * CLOSE })),
  ];
  const takes = ({ leading }: Style) => Math.floor(height / leading);
  const fitting = styles.find(
    (style) => countLines(lines.join("\n"), mm(place.widthMm), style.size) <= takes(style),
  );
  const smallest = styles.at(-1) ?? usual;
  return { style: fitting ?? smallest, fits: fitting !== undefined, most: takes(smallest) };
}
