/** Shades hair loss so that its steps stay apart on any printer: a deeper grey and another hatch at every step. */
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

const cross = (gap: number, stroke: number) => [
  { gap, degrees: 45, stroke },
  { gap, degrees: -45, stroke },
];

/**
 * Half quarters: dots, then one slant, the other, both, each in two densities, so that neighbours differ on a photocopy
 * too, where grey is lost. For drawing only.
 */
export const SHADES: readonly Shade[] = [
  { from: 0, grey: "#ffffff", hatch: [] },
  { from: Number.MIN_VALUE, grey: "#f4f4f4", hatch: [], dots: { gap: 5.2, radius: 0.4 } },
  { from: 12.5, grey: "#e9e9e9", hatch: [], dots: { gap: 3.2, radius: 0.5 } },
  { from: 25, grey: "#dedede", hatch: [{ gap: 4.6, degrees: 45, stroke: 0.45 }] },
  { from: 37.5, grey: "#d2d2d2", hatch: [{ gap: 2.8, degrees: 45, stroke: 0.5 }] },
  { from: 50, grey: "#c6c6c6", hatch: [{ gap: 3, degrees: -45, stroke: 0.6 }] },
  { from: 62.5, grey: "#b9b9b9", hatch: [{ gap: 2.1, degrees: -45, stroke: 0.65 }] },
  { from: 75, grey: "#acacac", hatch: cross(2.8, 0.55) },
  { from: 87.5, grey: "#9e9e9e", hatch: cross(2, 0.6) },
  { from: 100, grey: "#808080", hatch: [{ gap: 1.7, degrees: 0, stroke: 0.8 }] },
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
