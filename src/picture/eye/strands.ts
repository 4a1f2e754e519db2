/** Middles of lines -> strands: followed along their direction, and joined again where another hair crosses them. */
import type { Point } from "../marks.js";
import { middles, type Ridges } from "./ridges.js";

export interface Strand {
  /** From one end to the other, in pixels of the picture looked at. */
  readonly points: readonly Point[];
}

/** Turned further than this within a step, it is another hair. */
const MOST_TURN = 0.7;
/** Steps over which the direction of a strand is told. */
const LOOK_BACK = 6;
/** Ends this far apart may belong to one hair that another crosses, in pixels. */
const MOST_GAP = 22;
/** And point at each other within this angle. */
const JOIN_TURN = 0.3;
/** Of what the noise gives: a strand begins above the first and goes on above the second. */
const BEGIN = 6;
const GO_ON = 2.5;
/** Grey values: fainter lines are left to the human eye. */
const FAINTEST = { begin: 1.6, goOn: 0.8 };

/** Strands of at least `shortest` pixels. */
export function strandsOf(ridges: Ridges, mask: Uint8Array, shortest: number): Strand[] {
  const { width, strength, noise } = ridges;
  const begin = Math.max(FAINTEST.begin, BEGIN * noise);
  const goOn = Math.max(FAINTEST.goOn, GO_ON * noise);
  const free = middles(ridges, mask, goOn);
  const seeds: number[] = [];
  for (let at = 0; at < free.length; at++) if (free[at] === 1 && (strength[at] ?? 0) >= begin) seeds.push(at);
  seeds.sort((a, b) => (strength[b] ?? 0) - (strength[a] ?? 0) || a - b);
  const strands: Point[][] = [];
  for (const seed of seeds) {
    if (free[seed] !== 1) continue;
    free[seed] = 2;
    const way = ridges.direction[seed] ?? 0;
    const one = follow(ridges, free, seed, way);
    const other = follow(ridges, free, seed, way + Math.PI);
    const path = [...other.reverse(), seed, ...one];
    for (const at of path) clearBeside(free, width, at);
    if (path.length >= 4)
      strands.push(path.map((at): Point => [(at % width) + 0.5, Math.floor(at / width) + 0.5]));
  }
  return joined(strands)
    .filter((points) => lengthOf(points) >= shortest)
    .map((points) => ({ points }));
}

export function lengthOf(points: readonly Point[]): number {
  const [from, to] = [points[0], points.at(-1)];
  return from && to ? Math.hypot(to[0] - from[0], to[1] - from[1]) : 0;
}

function follow(
  { width, strength, direction }: Ridges,
  free: Uint8Array,
  seed: number,
  start: number,
): number[] {
  const path: number[] = [];
  let here = seed;
  let way = start;
  for (;;) {
    let best = -1;
    let most = 0;
    for (let dy = -2; dy <= 2; dy++) {
      for (let dx = -2; dx <= 2; dx++) {
        const far = Math.max(Math.abs(dx), Math.abs(dy));
        if (far === 0) continue;
        const at = here + dy * width + dx;
        if (free[at] !== 1) continue;
        const step = turnBetween(Math.atan2(dy, dx), way);
        const line = lineTurn(direction[at] ?? 0, way);
        if (step > (far === 1 ? 0.9 : 0.5) || line > MOST_TURN) continue;
        const score = ((strength[at] ?? 0) * Math.cos(step) * Math.cos(line)) / far;
        if (score > most) {
          most = score;
          best = at;
        }
      }
    }
    if (best < 0) return path;
    free[best] = 2;
    path.push(best);
    const back = path.length > LOOK_BACK ? (path.at(-1 - LOOK_BACK) ?? seed) : seed;
    const [x, y] = [(best % width) - (back % width), Math.floor(best / width) - Math.floor(back / width)];
    // The first steps are too short to tell a direction by themselves.
    way = path.length < 4 ? blend(start, Math.atan2(y, x), path.length / 4) : Math.atan2(y, x);
    here = best;
  }
}

/** A line is one hair wide: middles that touch a strand are no strand of their own. */
function clearBeside(free: Uint8Array, width: number, at: number): void {
  for (const step of [-1, 1, -width, width, -width - 1, -width + 1, width - 1, width + 1])
    if (free[at + step] === 1) free[at + step] = 0;
}

const blend = (a: number, b: number, part: number) =>
  Math.atan2(Math.sin(a) * (1 - part) + Math.sin(b) * part, Math.cos(a) * (1 - part) + Math.cos(b) * part);

/** Angle between two directions, 0 to π. */
function turnBetween(a: number, b: number): number {
  const turn = Math.abs(a - b) % (2 * Math.PI);
  return turn > Math.PI ? 2 * Math.PI - turn : turn;
}

/** Angle between a line, which has no sense of direction, and a direction. */
function lineTurn(line: number, way: number): number {
  const turn = turnBetween(line, way);
  return Math.min(turn, Math.PI - turn);
}

/** Direction in which a strand leaves at its last point. */
function leaving(points: readonly Point[]): number {
  const end = points.at(-1) ?? [0, 0];
  const before = points[Math.max(0, points.length - 12)] ?? end;
  return Math.atan2(end[1] - before[1], end[0] - before[0]);
}

interface End {
  readonly strand: number;
  readonly atStart: boolean;
  readonly point: Point;
  readonly way: number;
}

/** Strands whose ends point at each other over a short gap become one, the best pair first. */
function joined(strands: readonly Point[][]): Point[][] {
  const ends: End[] = strands.flatMap((points, strand): End[] => {
    const [first, last] = [points[0], points.at(-1)];
    if (!first || !last) return [];
    return [
      { strand, atStart: true, point: first, way: leaving(points.toReversed()) },
      { strand, atStart: false, point: last, way: leaving(points) },
    ];
  });
  const pairs: { a: End; b: End; cost: number }[] = [];
  for (const [i, a] of ends.entries()) {
    for (const b of ends.slice(i + 1)) {
      if (a.strand === b.strand) continue;
      const [dx, dy] = [b.point[0] - a.point[0], b.point[1] - a.point[1]];
      const gap = Math.hypot(dx, dy);
      if (gap > MOST_GAP) continue;
      const facing = turnBetween(a.way, b.way + Math.PI);
      const aside =
        gap < 3
          ? 0
          : Math.max(turnBetween(Math.atan2(dy, dx), a.way), turnBetween(Math.atan2(-dy, -dx), b.way));
      if (facing <= JOIN_TURN && aside <= JOIN_TURN)
        pairs.push({ a, b, cost: gap / MOST_GAP + facing + aside });
    }
  }
  pairs.sort((p, q) => p.cost - q.cost);
  const partner = new Map<End, End>();
  for (const { a, b } of pairs) {
    if (partner.has(a) || partner.has(b)) continue;
    partner.set(a, b);
    partner.set(b, a);
  }
  const endOf = (strand: number, atStart: boolean) => ends[2 * strand + (atStart ? 0 : 1)];
  const done = new Set<number>();
  const result: Point[][] = [];
  for (const [strand] of strands.entries()) {
    if (done.has(strand)) continue;
    // Back to the first strand of the chain, then along it.
    let first = endOf(strand, true);
    const seen = new Set<number>([strand]);
    for (
      let before = first && partner.get(first);
      before && !seen.has(before.strand);
      before = first && partner.get(first)
    ) {
      seen.add(before.strand);
      first = endOf(before.strand, !before.atStart);
    }
    const points: Point[] = [];
    for (let from = first; from && !done.has(from.strand); ) {
      done.add(from.strand);
      const own = strands[from.strand] ?? [];
      points.push(...(from.atStart ? own : own.toReversed()));
      const out = endOf(from.strand, !from.atStart);
      from = out && partner.get(out);
    }
    if (points.length > 0) result.push(points);
  }
  return result;
}
