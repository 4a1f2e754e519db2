/** A view of the head at one place and scale on paper: everything about it that is the same for every patient, worked out once. */
import type { Region } from "../../visit/visit.js";
import { type Curve, flatten, mapCurve, type Point } from "../curve.js";
import { headAt } from "../head/age.js";
import type { HeadView, RegionShape, View } from "../head/head-view.js";
import type { Polygon } from "../polygon.js";
import { curvePath, element } from "../svg.js";
import { type Shade, shaded } from "./shading.js";

export interface RegionOnPaper {
  readonly region: Region;
  readonly shape: RegionShape;
  /** In points. */
  readonly polygon: Polygon;
  /** Path data of the closed outline. */
  readonly d: string;
  /** The region shaded for hair loss. */
  shadedAs(shade: Shade): string;
}

export interface HeadOnPaper {
  onPaper(p: Point): Point;
  readonly regions: readonly RegionOnPaper[];
  /** Hairline, outline, ears and features, as they lie over the regions. */
  readonly lines: string;
  readonly whorl: string;
}

/** Heads kept; a run's letters need a few dozen, since corners follow from the views shown and the width. */
const MOST_KEPT = 48;

/** The longest unused first. */
const kept = new Map<string, HeadOnPaper>();

/** The view with the top left corner of its frame at `corner`, in points; `scale` is points to the millimetre. */
export function headOnPaper(view: View, corner: Point, scale: number, ageYears: number): HeadOnPaper {
  const head = headAt(view, ageYears);
  const key = `${view} ${head.frame[3]} ${corner[0]} ${corner[1]} ${scale}`;
  const found = kept.get(key) ?? put(head, corner, scale);
  kept.delete(key);
  kept.set(key, found);
  const [oldest] = kept.keys();
  if (kept.size > MOST_KEPT && oldest !== undefined) kept.delete(oldest);
  return found;
}

function put(head: HeadView, corner: Point, scale: number): HeadOnPaper {
  const [left, top] = head.frame;
  const onPaper = ([x, y]: Point): Point => [corner[0] + (x - left) * scale, corner[1] + (y - top) * scale];
  const lines = (curves: readonly Curve[], stroke: string, weight: number, fill = "none", closed = false) =>
    curves
      .map((curve) =>
        element("path", {
          d: curvePath(mapCurve(curve, onPaper), closed),
          fill,
          stroke,
          "stroke-width": weight,
          "stroke-linecap": "round",
          "stroke-linejoin": "round",
        }),
      )
      .join("");
  return {
    onPaper,
    regions: head.regions.map((shape) => regionOnPaper(shape, onPaper)),
    lines: [
      lines(head.hairline, "#5a5a5a", 0.6),
      lines(head.outline, "#1a1a1a", 1.1),
      lines(head.over, "#1a1a1a", 0.9, "#ffffff", true),
      lines(head.features, "#7a7a7a", 0.6),
    ].join(""),
    whorl: lines(head.whorl, "#7a7a7a", 0.6),
  };
}

function regionOnPaper(shape: RegionShape, onPaper: (p: Point) => Point): RegionOnPaper {
  const outline = mapCurve(shape.outline, onPaper);
  const polygon = flatten(outline);
  const d = curvePath(outline, true);
  const drawn = new Map<Shade, string>();
  return {
    region: shape.region,
    shape,
    polygon,
    d,
    shadedAs(shade) {
      const svg = drawn.get(shade) ?? shaded(polygon, shade, d);
      drawn.set(shade, svg);
      return svg;
    },
  };
}
