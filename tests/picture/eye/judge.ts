/** Suggestions against what was drawn: found, missed, invented, where they leave the skin, and how wide. */
import { distance, fromLine } from "../../../src/picture/geometry.js";
import type { Point } from "../../../src/picture/marks.js";
import type { DrawnHair } from "./draw-hairs.js";

export interface Line {
  readonly path: readonly Point[];
  readonly at?: Point;
  readonly widthPx?: number;
}

export interface Judged {
  readonly drawn: number;
  readonly suggested: number;
  readonly found: number;
  readonly invented: number;
  /** Of those found, with the point where they leave the skin within `NEAR`. */
  readonly rooted: number;
  /** Widths told, as parts of the true ones. */
  readonly widths: readonly number[];
}

/** Pixels beside the middle of a hair that still lie on it. */
const ON = 5;
/** Pixels between a root told and a root drawn: 0.14 mm in these pictures. */
const NEAR = 15;

/** A suggestion is of the hair on which most of it lies, each hair once, and covers a third of that hair or more. */
export function judge(hairs: readonly DrawnHair[], lines: readonly Line[]): Judged {
  const near = ([x, y]: Point, path: readonly Point[]) => {
    let least = Number.POSITIVE_INFINITY;
    for (const [i, to] of path.entries()) least = Math.min(least, fromLine(path[i - 1] ?? to, to, [x, y]));
    return least;
  };
  const pairs = lines.flatMap((line, i) =>
    hairs.flatMap((hair, j) => {
      const dense = filled(line.path);
      if (dense.length === 0 || distance(dense[0] ?? [0, 0], hair.path[0] ?? [0, 0]) > 700) return [];
      const on = dense.filter((point) => near(point, hair.path) <= ON).length / dense.length;
      if (on < 0.6) return [];
      const covered = hair.path.filter((point) => near(point, line.path) <= ON).length / hair.path.length;
      return covered >= 1 / 3 ? [{ i, j, score: on * covered }] : [];
    }),
  );
  pairs.sort((a, b) => b.score - a.score);
  const [used, known] = [new Set<number>(), new Set<number>()];
  let rooted = 0;
  const widths: number[] = [];
  for (const { i, j } of pairs) {
    if (used.has(i) || known.has(j)) continue;
    used.add(i);
    known.add(j);
    const [line, hair] = [lines[i], hairs[j]];
    const root = hair?.path[0];
    if (line?.at && root && distance(line.at, root) <= NEAR) rooted++;
    if (line?.widthPx !== undefined && hair) widths.push(line.widthPx / hair.width);
  }
  return {
    drawn: hairs.length,
    suggested: lines.length,
    found: used.size,
    invented: lines.length - used.size,
    rooted,
    widths,
  };
}

/** A path with points no further than 4 pixels apart. */
function filled(path: readonly Point[]): Point[] {
  return path.flatMap((to, i): Point[] => {
    const from = path[i - 1];
    if (!from) return [to];
    const steps = Math.max(1, Math.ceil(distance(from, to) / 4));
    return Array.from({ length: steps }, (_, k): Point => {
      const t = (k + 1) / steps;
      return [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])];
    });
  });
}

/** Mean and standard deviation. */
export function spread(values: readonly number[]): { readonly mean: number; readonly sd: number } {
  const mean = values.reduce((a, b) => a + b, 0) / Math.max(1, values.length);
  const sd = Math.sqrt(values.reduce((a, b) => a + (b - mean) ** 2, 0) / Math.max(1, values.length - 1));
  return { mean, sd };
}
