/** Shades hair loss so that six steps stay apart on any printer: a deeper grey and another hatch at every step. */
import type { Polygon } from "../polygon.js";
import { dotGrid, hatchLines } from "../polygon.js";
import { element, linePath, num } from "../svg.js";

export interface Shade {
  /** Percent lost from which this shade applies. */
  readonly from: number;
  readonly grey: string;
  readonly hatch: readonly { readonly gap: number; readonly degrees: number; readonly stroke: number }[];
  readonly dots?: { readonly gap: number; readonly radius: number };
}

/** Steps follow the quarters of the S0-S5 classes (Olsen 2004, read in later papers that cite it); for drawing only. */
export const SHADES: readonly Shade[] = [
  { from: 0, grey: "#ffffff", hatch: [] },
  { from: Number.MIN_VALUE, grey: "#f3f3f3", hatch: [], dots: { gap: 4.2, radius: 0.42 } },
  { from: 25, grey: "#e4e4e4", hatch: [{ gap: 4, degrees: 45, stroke: 0.45 }] },
  { from: 50, grey: "#d0d0d0", hatch: [{ gap: 2.6, degrees: -45, stroke: 0.55 }] },
  {
    from: 75,
    grey: "#b8b8b8",
    hatch: [
      { gap: 3, degrees: 45, stroke: 0.55 },
      { gap: 3, degrees: -45, stroke: 0.55 },
    ],
  },
  { from: 100, grey: "#8f8f8f", hatch: [{ gap: 1.9, degrees: 0, stroke: 0.75 }] },
];

/** The shade of `percent` lost; out-of-range values take the nearest step. */
export function shadeOf(percent: number): Shade {
  return SHADES.findLast((shade) => percent >= shade.from) ?? SHADES[0]!;
}

/** Ground and hatch of one outline in points; `ground` is its path data where a curve draws it in fewer words. */
export function shaded(polygon: Polygon, shade: Shade, ground = linePath(polygon, true)): string {
  const strokes = shade.hatch.map(({ gap, degrees, stroke }) =>
    element("path", {
      d: hatchLines(polygon, gap, degrees)
        .map((line) => linePath(line))
        .join(""),
      fill: "none",
      stroke: "#4a4a4a",
      "stroke-width": stroke,
    }),
  );
  const { dots } = shade;
  const points = dots === undefined ? [] : dotGrid(polygon, dots.gap, 1);
  // A hair's breadth of line with round ends is a dot, in a fraction of the text a circle takes.
  const dotted = points.map(([x, y]) => `M${num(x)} ${num(y)}h0.01`).join("");
  return [
    element("path", { d: ground, fill: shade.grey }),
    ...strokes,
    ...(dots === undefined || dotted === ""
      ? []
      : [
          element("path", {
            d: dotted,
            fill: "none",
            stroke: "#4a4a4a",
            "stroke-width": 2 * dots.radius,
            "stroke-linecap": "round",
          }),
        ]),
  ].join("");
}
