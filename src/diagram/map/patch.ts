/** Draws a bald patch to scale: white, finely dotted, with a firm or broken edge, and never beyond the scalp. */
import type { Patch } from "../../visit/visit.js";
import type { Point } from "../curve.js";
import { clipTo, dotGrid, ellipse, inside, type Polygon } from "../polygon.js";
import { element, linePath, num } from "../svg.js";

/** Half axes in points at `scale` points to the millimetre; longer side across the page. */
export function halfAxes(patch: Patch, scale: number): Point {
  // Twice the head's length covers any view; larger only strains the numbers.
  const hold = (mm: number) => Math.min(Math.max(mm, 0), 400);
  return [(hold(patch.lengthMm) / 2) * scale, (hold(patch.widthMm) / 2) * scale];
}

/** The patch at `at`, cut to the region outlines it lies on; all in points. */
export function drawPatch(
  at: Point,
  axes: Point,
  margin: Patch["margin"],
  regions: readonly Polygon[],
): string {
  const rim = ellipse(at, axes[0], axes[1], 72);
  const dash = margin === "blurred" ? "1.6 1.6" : undefined;
  const stroke = {
    stroke: "#111111",
    "stroke-width": margin === "blurred" ? 0.9 : 1.15,
    "stroke-dasharray": dash,
  };
  const on = (p: Point) => regions.some((region) => inside(region, p));
  const dots = (polygon: Polygon) =>
    dotGrid(polygon, 2.3, 0.5)
      .map(([x, y]) => `M${num(x - 0.3)} ${num(y)}h0.6`)
      .join("");
  const dotted = (d: string) =>
    d === "" ? "" : element("path", { d, fill: "none", stroke: "#3a3a3a", "stroke-width": 0.6 });
  if (rim.every(on)) {
    return (
      element("ellipse", { cx: at[0], cy: at[1], rx: axes[0], ry: axes[1], fill: "#ffffff", ...stroke }) +
      dotted(dots(rim))
    );
  }
  const pieces = regions.map((region) => clipTo(region, rim)).filter((piece) => piece.length > 2);
  const ground = pieces
    .map((piece) => element("path", { d: linePath(piece, true), fill: "#ffffff" }))
    .join("");
  // The rim is drawn only where it runs on the scalp; elsewhere the head's own lines close the patch.
  const arcs: Point[][] = [];
  const start = Math.max(
    0,
    rim.findIndex((p) => !on(p)),
  );
  let arc: Point[] = [];
  for (let k = 0; k <= rim.length; k++) {
    const p = rim[(start + k) % rim.length]!;
    if (on(p)) arc.push(p);
    else {
      if (arc.length > 1) arcs.push(arc);
      arc = [];
    }
  }
  const edge = arcs.map((points) => linePath(points)).join("");
  return (
    ground +
    dotted(pieces.map(dots).join("")) +
    (edge === "" ? "" : element("path", { d: edge, fill: "none", ...stroke }))
  );
}
