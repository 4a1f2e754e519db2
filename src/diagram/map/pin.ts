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

/** The line from a disc to the site it numbers, with a dot on the site; empty when the disc stands on it. */
export function leader(at: Point, centre: Point, radius: number): string {
  const length = Math.hypot(at[0] - centre[0], at[1] - centre[1]);
  if (length < radius * 0.6) return "";
  const line = length > radius ? linePath([at, centre]) : undefined;
  return (
    (line === undefined
      ? ""
      : element("path", { d: line, fill: "none", stroke: "#ffffff", "stroke-width": 1.9 }) +
        element("path", { d: line, fill: "none", stroke: "#1a1a1a", "stroke-width": 0.8 })) +
    element("circle", {
      cx: at[0],
      cy: at[1],
      r: 1.4,
      fill: "#1a1a1a",
      stroke: "#ffffff",
      "stroke-width": 0.5,
    })
  );
}
