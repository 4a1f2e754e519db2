/** Sets views of the head side by side, each with its name below and the patient's sides beside it. */
import type { Extent, Site } from "../../visit/visit.js";
import type { Point } from "../curve.js";
import { headAt } from "../head/age.js";
import { HEAD } from "../head/head.js";
import type { View } from "../head/head-view.js";
import { label, textWidth, wrap } from "../text.js";
import { drawView, type ViewLook } from "./draw-view.js";
import type { MapWords } from "./phrases.js";

export interface RowLook extends ViewLook {
  readonly textSize: number;
}

/** Millimetres left free in the corners beside a head. */
const CORNER = 44;

/** Width of the views' frames together, in millimetres. */
export function frameWidth(row: readonly View[]): number {
  return row.reduce((sum, view) => sum + HEAD[view].frame[2], 0);
}

const tallest = (row: readonly View[], { ageYears }: RowLook): number =>
  Math.max(...row.map((view) => headAt(view, ageYears).frame[3]));

/** Side words stand in the corners of the frame, or in a strip of their own above it when they are too wide. */
function strip(row: readonly View[], words: MapWords, look: RowLook): number {
  const widest = Math.max(textWidth(words.left, look.textSize), textWidth(words.right, look.textSize));
  const needed = row.some((view) => sidesOf(view, words) !== undefined) && widest > CORNER * look.scale;
  return needed ? look.textSize * 1.15 : 0;
}

/** The words at the page's left and right of a view; none for a side view, which its name explains. */
function sidesOf(view: View, words: MapWords): readonly [string, string] | undefined {
  if (view === "above" || view === "behind") return [words.left, words.right];
  return view === "front" ? [words.right, words.left] : undefined;
}

function caption(view: View, words: MapWords, look: RowLook): string[] {
  return wrap(words.views[view], look.textSize, HEAD[view].frame[2] * look.scale + 3);
}

/** Height of the row in points, captions included. */
export function rowHeight(row: readonly View[], words: MapWords, look: RowLook): number {
  const lines = Math.max(...row.map((view) => caption(view, words, look).length));
  return (
    strip(row, words, look) +
    tallest(row, look) * look.scale +
    lines * look.textSize * 1.25 +
    (look.plain ? 12 : 8)
  );
}

/** The row with its top left corner at `corner`; lengths in points. */
export function drawRow(
  row: readonly View[],
  corner: Point,
  between: number,
  sites: readonly Site[],
  extent: Extent | undefined,
  words: MapWords,
  look: RowLook,
): string {
  const { scale, textSize } = look;
  const tall = tallest(row, look) * scale;
  const top = corner[1] + strip(row, words, look);
  const parts: string[] = [];
  let x = corner[0];
  for (const view of row) {
    const [, , w, h] = headAt(view, look.ageYears).frame;
    const width = w * scale;
    // The view from above is shorter than the others: it stands in the middle of its row.
    const viewTop = top + (tall - h * scale) / 2;
    parts.push(drawView(view, [x, viewTop], sites, extent, look));
    const sides = sidesOf(view, words);
    if (sides !== undefined) {
      const size = look.textSize;
      // One line for the whole row, though one head is shorter.
      const baseline = top === corner[1] ? top + size : top - size * 0.25;
      const side = { size, fill: "#444444" };
      parts.push(
        label(sides[0], x, baseline, side),
        label(sides[1], x + width, baseline, { ...side, anchor: "end" }),
      );
    }
    caption(view, words, look).forEach((line, k) => {
      const baseline = top + tall + textSize * (1.2 + 1.25 * k);
      parts.push(label(line, x + width / 2, baseline, { size: textSize, anchor: "middle", fill: "#333333" }));
    });
    x += width + between;
  }
  return parts.join("");
}
