/** Smooth curves through points: drawn lines as data that can be cut, mirrored, scaled and flattened. */

export type Point = readonly [x: number, y: number];
/** A cubic: start, two handles, end. */
export type Segment = readonly [Point, Point, Point, Point];
export type Curve = readonly Segment[];

function unit(from: Point, to: Point): Point {
  const dx = to[0] - from[0];
  const dy = to[1] - from[1];
  const length = Math.hypot(dx, dy) || 1;
  return [dx / length, dy / length];
}

/** The direction at `b` of the circle through three points: the nearer neighbour has the greater say. */
function turn(a: Point, b: Point, c: Point): Point {
  const before = Math.hypot(b[0] - a[0], b[1] - a[1]) || 1;
  const after = Math.hypot(c[0] - b[0], c[1] - b[1]) || 1;
  const x = ((b[0] - a[0]) / before) * after + ((c[0] - b[0]) / after) * before;
  const y = ((b[1] - a[1]) / before) * after + ((c[1] - b[1]) / after) * before;
  return unit([0, 0], [x, y]);
}

/** A curve through `points` that turns evenly; handles are a third of each span, so uneven spacing makes no loops. */
export function smooth(points: readonly Point[], closed = false): Curve {
  const n = points.length;
  const at = (i: number): Point => points[closed ? (i + n) % n : Math.min(Math.max(i, 0), n - 1)]!;
  const tangent = (i: number): Point => {
    if (closed || (i > 0 && i < n - 1)) return turn(at(i - 1), at(i), at(i + 1));
    // At an open end the tangent mirrors the neighbour's across the span, as on an arc.
    const near = i === 0 ? 1 : n - 2;
    const chord = i === 0 ? unit(at(0), at(1)) : unit(at(n - 2), at(n - 1));
    const inner = n > 2 ? turn(at(near - 1), at(near), at(near + 1)) : chord;
    const along = 2 * (chord[0] * inner[0] + chord[1] * inner[1]);
    return [along * chord[0] - inner[0], along * chord[1] - inner[1]];
  };
  const spans = closed ? n : n - 1;
  return Array.from({ length: spans }, (_, i) => {
    const a = at(i);
    const b = at(i + 1);
    const ta = tangent(i);
    const tb = tangent(closed ? (i + 1) % n : i + 1);
    const h = Math.hypot(b[0] - a[0], b[1] - a[1]) / 3;
    return [a, [a[0] + ta[0] * h, a[1] + ta[1] * h], [b[0] - tb[0] * h, b[1] - tb[1] * h], b];
  });
}

/** The same curve walked from its end to its start. */
export function reversed(curve: Curve): Curve {
  return curve.map(([a, b, c, d]): Segment => [d, c, b, a]).reverse();
}

/** The piece from knot `from` to knot `to`; walked backwards when `from` is the later one. */
export function part(curve: Curve, from: number, to: number): Curve {
  return from <= to ? curve.slice(from, to) : reversed(curve.slice(to, from));
}

/** Every point moved by `move`. */
export function mapCurve(curve: Curve, move: (p: Point) => Point): Curve {
  return curve.map(([a, b, c, d]): Segment => [move(a), move(b), move(c), move(d)]);
}

/** The mirror image across the line x = 0. */
export function mirrored(curve: Curve): Curve {
  return mapCurve(curve, ([x, y]) => [-x, y]);
}

const STEPS = 8;
const flattened = new WeakMap<Curve, readonly Point[]>();

/** Points along the curve, `STEPS` to a segment, the first included; heads are asked for the same ones in every map. */
export function flatten(curve: Curve): readonly Point[] {
  const known = flattened.get(curve);
  if (known) return known;
  const points: Point[] = [];
  curve.forEach(([a, b, c, d], i) => {
    for (let s = i === 0 ? 0 : 1; s <= STEPS; s++) {
      const t = s / STEPS;
      const u = 1 - t;
      const w = [u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t] as const;
      points.push([
        a[0] * w[0] + b[0] * w[1] + c[0] * w[2] + d[0] * w[3],
        a[1] * w[0] + b[1] * w[1] + c[1] * w[2] + d[1] * w[3],
      ]);
    }
  });
  flattened.set(curve, points);
  return points;
}
