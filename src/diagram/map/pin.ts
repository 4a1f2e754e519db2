/** The numbered disc, the same on the map and in its key. */
import type { Point } from "../curve.js";
import { element, linePath } from "../svg.js";
import { label } from "../text.js";

/** A dark disc with a white number; readable on any ground. */
export function disc(number: number, [x, y]: Point, radius: number): string {
  const digits = String(number);
  const size = radius * (digits.length === 1 ? 1.4 : digits.length === 2 ? 1.15 : 0.85);
  return (
    element("circle", { cx: x, cy: y, r: radius, fill: "#1a1a1a", stroke: "#ffffff", "stroke-width": 0.8 }) +
    label(digits, x, y + size * 0.36, { size, fill: "#ffffff", anchor: "middle", bold: true })
  );
}

/**
 * The line from a disc to what it numbers: to the edge of the patch, or to a dot on a site without one. Empty when
 * the disc stands on its site.
 */
export function leader(at: Point, centre: Point, radius: number, patch: Point | undefined): string {
  const [dx, dy] = [centre[0] - at[0], centre[1] - at[1]];
  const length = Math.hypot(dx, dy);
  if (length < radius * 0.6) return "";
  // How far the patch reaches towards the disc.
  const reach = patch === undefined ? 0 : length / Math.hypot(dx / patch[0], dy / patch[1]);
  const dot =
    patch === undefined
      ? element("circle", {
          cx: at[0],
          cy: at[1],
          r: 1.4,
          fill: "#1a1a1a",
          stroke: "#ffffff",
          "stroke-width": 0.5,
        })
      : "";
  if (length - radius <= reach) return dot;
  const edge: Point = [at[0] + (dx / length) * reach, at[1] + (dy / length) * reach];
  const d = linePath([edge, centre]);
  return (
    element("path", { d, fill: "none", stroke: "#ffffff", "stroke-width": 1.9 }) +
    element("path", { d, fill: "none", stroke: "#1a1a1a", "stroke-width": 0.8 }) +
    dot
  );
}
