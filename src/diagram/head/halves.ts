/** Makes whole views from one half, since a head seen from above, behind or in front is the same on both sides. */
import type { Region } from "../../visit/visit.js";
import { type Curve, mirrored, type Point, reversed, smooth } from "../curve.js";
import type { RegionShape } from "./head-view.js";

/**
 * A curve given by its left half, from the midline outwards, and closed when the half ends on the midline again. The
 * middle comes out level; `half` runs from the
 * midline out to the left, knot for knot as given.
 */
export function bothSides(points: readonly Point[]): { whole: Curve; half: Curve } {
  const right = points.slice(1).map(([x, y]): Point => [-x, y]);
  const closed = points[points.length - 1]?.[0] === 0;
  const whole = smooth([...[...right].reverse(), ...(closed ? points.slice(0, -1) : points)], closed);
  return { whole, half: whole.slice(points.length - 1) };
}

/** A region across the midline, from the half loop that starts and ends on it. */
export function middle(region: Region, read: RegionShape["read"], half: Curve): RegionShape {
  return { region, read, outline: [...half, ...reversed(mirrored(half))] };
}

/** A pair of regions from the loop on the page's left. */
export function pair(onLeft: Region, onRight: Region, loop: Curve): RegionShape[] {
  return [
    { region: onLeft, read: "rows", outline: loop },
    { region: onRight, read: "rows", outline: mirrored(loop) },
  ];
}

/** Each curve and its mirror image. */
export function twice(curves: readonly Curve[]): Curve[] {
  return [...curves, ...curves.map(mirrored)];
}
