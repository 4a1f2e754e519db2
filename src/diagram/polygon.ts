/** Questions asked of closed outlines: where a line crosses them, what lies inside, what an ellipse leaves of them. */
import type { Point } from "./curve.js";

export type Polygon = readonly Point[];
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
}

/** The smallest upright box around the points. */
export function boxOf(points: readonly Point[]): Box {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  return { left: Math.min(...xs), top: Math.min(...ys), right: Math.max(...xs), bottom: Math.max(...ys) };
}

/** Where the level line y = `level` runs inside the polygon, as pairs of x in order. */
export function rowsInside(polygon: Polygon, level: number): [number, number][] {
  const xs: number[] = [];
  polygon.forEach((a, i) => {
    const b = polygon[(i + 1) % polygon.length]!;
    if (a[1] <= level !== b[1] <= level) {
      xs.push(a[0] + ((level - a[1]) / (b[1] - a[1])) * (b[0] - a[0]));
    }
  });
  xs.sort((a, b) => a - b);
  const pairs: [number, number][] = [];
  for (let i = 0; i + 1 < xs.length; i += 2) pairs.push([xs[i]!, xs[i + 1]!]);
  return pairs;
}

/** True when the point lies inside the polygon (even-odd). */
export function inside(polygon: Polygon, [x, y]: Point): boolean {
  let isInside = false;
  let a = polygon[polygon.length - 1];
  for (const b of polygon) {
    if (a !== undefined && a[1] <= y !== b[1] <= y) {
      const crossing = a[0] + ((y - a[1]) / (b[1] - a[1])) * (b[0] - a[0]);
      // The outline itself counts as inside.
      if (crossing === x) return true;
      if (crossing < x) isInside = !isInside;
    }
    a = b;
  }
  return isInside;
}

/** Parallel strokes filling the polygon, `gap` apart, at `degrees` from level. */
export function hatchLines(polygon: Polygon, gap: number, degrees: number): [Point, Point][] {
  const angle = (degrees * Math.PI) / 180;
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const turned = polygon.map(([x, y]): Point => [x * cos + y * sin, y * cos - x * sin]);
  const back = (x: number, y: number): Point => [x * cos - y * sin, y * cos + x * sin];
  const box = boxOf(turned);
  const lines: [Point, Point][] = [];
  // Levels are whole multiples of the gap, so that neighbouring regions share one hatch.
  for (let k = Math.ceil(box.top / gap); k * gap <= box.bottom; k++) {
    for (const [from, to] of rowsInside(turned, k * gap)) {
      if (to - from > 0.4) lines.push([back(from, k * gap), back(to, k * gap)]);
    }
  }
  return lines;
}

/** Staggered dots filling the polygon, `gap` apart and at least `inset` from its sides. */
export function dotGrid(polygon: Polygon, gap: number, inset: number): Point[] {
  const box = boxOf(polygon);
  const dots: Point[] = [];
  for (let row = Math.ceil(box.top / gap); row * gap <= box.bottom; row++) {
    const shift = row % 2 === 0 ? 0 : gap / 2;
    for (const [from, to] of rowsInside(polygon, row * gap)) {
      for (let k = Math.ceil((from + inset - shift) / gap); k * gap + shift <= to - inset; k++) {
        dots.push([k * gap + shift, row * gap]);
      }
    }
  }
  return dots;
}

/** The part of `subject` inside the convex polygon `window` (Sutherland-Hodgman); both wound either way. */
export function clipTo(subject: Polygon, window: Polygon): Point[] {
  const area = window.reduce((sum, [x, y], i) => {
    const [nx, ny] = window[(i + 1) % window.length]!;
    return sum + x * ny - nx * y;
  }, 0);
  const sign = area >= 0 ? 1 : -1;
  let kept: Point[] = [...subject];
  window.forEach((a, i) => {
    const b = window[(i + 1) % window.length]!;
    const side = (p: Point) => sign * ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]));
    const next: Point[] = [];
    kept.forEach((p, j) => {
      const q = kept[(j + 1) % kept.length]!;
      const [sp, sq] = [side(p), side(q)];
      if (sp >= 0) next.push(p);
      if (sp >= 0 !== sq >= 0) {
        const t = sp / (sp - sq);
        next.push([p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]);
      }
    });
    kept = next;
  });
  return kept;
}

/** `steps` points round an upright ellipse. */
export function ellipse(centre: Point, rx: number, ry: number, steps = 48): Point[] {
  return Array.from({ length: steps }, (_, i): Point => {
    const t = (i / steps) * 2 * Math.PI;
    return [centre[0] + rx * Math.cos(t), centre[1] + ry * Math.sin(t)];
  });
}
