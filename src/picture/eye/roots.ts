/**
 * At which of its ends a strand leaves the skin. Hairs of one follicular unit leave it together, so an end that lies beside an
 * end of another strand is a root, and so is the wider end of one that tapers clearly; the rest lean as those around them do. A
 * hair that is thinner at the skin, as an exclamation mark hair, may be told the wrong way round. Hairs that run together near
 * the skin are told apart only further on: such a strand is followed back to the root it points at.
 */
import { distance, fromLine } from "../geometry.js";
import type { Point } from "../marks.js";
import type { Strand } from "./strands.js";

export interface Root {
  readonly atStart: boolean;
  readonly at: Point;
  readonly unit: number;
}

/** Ends no further apart than this leave the skin together, in pixels of what is looked at. */
const TOGETHER = 11;
/** A strand that begins within this of another's root, and points at it, comes from there. */
const BACK = 46;
const BACK_ASIDE = 5;
/** Whose lean is asked. */
const AROUND = 400;

/** Hairs taper towards the tip; below the first, as a logarithm of widths, it may be the measuring. */
const LEAST_TAPER = 0.25;
const FULL_TAPER = 0.4;
const tapering = (taper: number): number =>
  Math.abs(taper) < LEAST_TAPER ? 0 : Math.max(-1, Math.min(1, taper / FULL_TAPER));

export interface Tapering extends Strand {
  /** How much wider its start is than its end, as a logarithm. */
  readonly taper: number;
}

export function rootsOf(strands: readonly Tapering[]): Root[] {
  const ends = strands.map(({ points }) => [points[0] ?? [0, 0], points.at(-1) ?? [0, 0]] as const);
  const votes = ends.map(([start, end], i) => {
    const beside = (point: Point) =>
      ends.reduce(
        (n, others, j) =>
          j === i ? n : n + others.filter((other) => distance(other, point) < TOGETHER).length,
        0,
      );
    return beside(start) - beside(end);
  });
  const lean = ends.map(([start, end], i): Point => {
    const vote = Math.sign(votes[i] ?? 0) + tapering(strands[i]?.taper ?? 0);
    const far = Math.max(1, distance(start, end));
    return [(vote * (end[0] - start[0])) / far, (vote * (end[1] - start[1])) / far];
  });
  const atStart = ends.map(([start, end], i) => {
    const middle: Point = [(start[0] + end[0]) / 2, (start[1] + end[1]) / 2];
    let [x, y] = [0, 0];
    for (const [j, [a, b]] of ends.entries()) {
      const far = distance(middle, [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]);
      const weight = Math.exp(-((far / AROUND) ** 2)) * (j === i ? 2 : 1);
      x += weight * (lean[j]?.[0] ?? 0);
      y += weight * (lean[j]?.[1] ?? 0);
    }
    return x * (end[0] - start[0]) + y * (end[1] - start[1]) >= 0;
  });
  const roots = ends.map(([start, end], i): Point => (atStart[i] ? start : end));
  const tips = ends.map(([start, end], i): Point => (atStart[i] ? end : start));
  const back = roots.map(
    (root, i): Point => followedBack(root, strands[i]?.points ?? [], atStart[i] ?? true, roots, tips, i),
  );
  return numbered(back).map((unit, i) => ({ atStart: atStart[i] ?? true, at: back[i] ?? [0, 0], unit }));
}

/** The root that a strand points back at, where there is one close by that lies on its way; else its own end. */
function followedBack(
  root: Point,
  points: readonly Point[],
  atStart: boolean,
  roots: readonly Point[],
  tips: readonly Point[],
  own: number,
): Point {
  const ahead =
    (atStart ? points[Math.min(points.length - 1, 14)] : points[Math.max(0, points.length - 15)]) ?? root;
  const far = Math.max(1, distance(root, ahead));
  const behind: Point = [
    root[0] + ((root[0] - ahead[0]) / far) * BACK,
    root[1] + ((root[1] - ahead[1]) / far) * BACK,
  ];
  let best = root;
  let nearest = BACK;
  for (const [i, other] of roots.entries()) {
    const gap = distance(other, root);
    if (i === own || gap >= nearest || gap < 2 || fromLine(root, behind, other) > BACK_ASIDE) continue;
    // It must come off the other's shaft, not merely stand in line with its root.
    if (fromLine(other, tips[i] ?? other, root) > BACK_ASIDE + 3) continue;
    best = other;
    nearest = gap;
  }
  return best;
}

/** The number of each root's unit: roots that hang together. */
function numbered(roots: readonly Point[]): number[] {
  const unit = roots.map(() => 0);
  let last = 0;
  for (const [first] of roots.entries()) {
    if (unit[first] !== 0) continue;
    last++;
    const next = [first];
    while (next.length > 0) {
      const here = next.pop() ?? 0;
      unit[here] = last;
      for (const [j, root] of roots.entries())
        if (unit[j] === 0 && distance(root, roots[here] ?? root) < TOGETHER) {
          unit[j] = last;
          next.push(j);
        }
    }
  }
  return unit;
}
