/** How an address is set so that the envelope's window shows the whole of it, and how many lines the window takes. */
import { addressRows } from "./address-rows.js";
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
  /** The lines as they are set: one that is too wide is broken at its commas where the window has room for that. */
  readonly rows: readonly string[];
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
  const width = mm(place.widthMm);
  const smallest = styles.at(-1) ?? usual;
  const set = (rowsAt: (style: Style) => readonly string[]) =>
    styles.flatMap((style) => {
      const rows = rowsAt(style);
      return countLines(rows.join("\n"), width, style.size) <= takes(style) ? [{ style, rows }] : [];
    })[0];
  const fitting =
    set(({ size }) => lines.flatMap((line) => addressRows(line, width, size))) ?? set(() => lines);
  return { rows: lines, style: smallest, ...fitting, fits: fitting !== undefined, most: takes(smallest) };
}
