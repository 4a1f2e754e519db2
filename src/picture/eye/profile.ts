/** Across a strand: where its edges stand, at half of its depth, and how steep they are. */
import type { Point } from "../marks.js";
import { type Grey, sample } from "./grey.js";

export interface Profile {
  /** The two edges, in pixels. */
  readonly from: Point;
  readonly to: Point;
  readonly widthPx: number;
  /** How far the strand stands out from its ground, in grey values. */
  readonly depth: number;
  /** Standard deviation of the blur of its edges, in pixels. */
  readonly blurPx: number;
}

const STEP = 0.25;

/**
 * The profile at a place whose line runs in direction `way`: along the line it is the mean of five cuts, against noise; the ground
 * on each side is the brightest of it (darkest beside a light hair), and an edge stands where half of the depth is passed.
 * Undefined where the line is not seen from both sides.
 */
export function profileAt(
  grey: Grey,
  [x, y]: Point,
  way: number,
  sign: 1 | -1,
  reach: number,
): Profile | undefined {
  const [ax, ay] = [Math.cos(way), Math.sin(way)];
  const [nx, ny] = [-ay, ax];
  const half = Math.round(reach / STEP);
  const cut = new Float64Array(2 * half + 1);
  for (let i = -half; i <= half; i++) {
    let sum = 0;
    for (let k = -2; k <= 2; k++) sum += sample(grey, x + nx * i * STEP + ax * k, y + ny * i * STEP + ay * k);
    cut[i + half] = (sign * sum) / 5;
  }
  let middle = half;
  for (let i = half - 6; i <= half + 6; i++) if ((cut[i] ?? 0) < (cut[middle] ?? 0)) middle = i;
  const left = edge(cut, middle, -1);
  const right = edge(cut, middle, 1);
  if (!left || !right) return undefined;
  const at = (index: number): Point => [x + nx * (index - half) * STEP, y + ny * (index - half) * STEP];
  return {
    from: at(left.at),
    to: at(right.at),
    widthPx: (right.at - left.at) * STEP,
    depth: (left.depth + right.depth) / 2,
    blurPx: (left.blur + right.blur) / 2,
  };
}

function edge(
  cut: Float64Array,
  middle: number,
  step: 1 | -1,
): { at: number; depth: number; blur: number } | undefined {
  const low = cut[middle] ?? 0;
  // The first shoulder: the profile no longer rises over a pixel.
  let top = middle;
  let highest = middle;
  let isOver = false;
  for (let i = middle + step; i > 3 && i < cut.length - 4; i += step) {
    if ((cut[i] ?? 0) > (cut[highest] ?? 0)) highest = i;
    if (isOver) continue;
    if ((cut[i] ?? 0) > (cut[top] ?? 0)) top = i;
    else if ((i - top) * step > 4) isOver = true;
  }
  // The lamp shows along the ridge of a round shaft: less than half as high as the ground beyond it.
  if ((cut[highest] ?? 0) - low > 2 * ((cut[top] ?? 0) - low)) top = highest;
  const depth = (cut[top] ?? 0) - low;
  if (depth < 4 || top === middle) return undefined;
  const wanted = low + depth / 2;
  let steepest = 0;
  let at: number | undefined;
  for (let i = middle; i !== top; i += step) {
    const [here, next] = [cut[i] ?? 0, cut[i + step] ?? 0];
    steepest = Math.max(steepest, (next - here) / STEP);
    if (at === undefined && here <= wanted && next > wanted)
      at = i + (step * (wanted - here)) / (next - here);
  }
  if (at === undefined || steepest <= 0) return undefined;
  // The edge of a step blurred by sigma is steepest at depth / (sigma sqrt(2 pi)).
  return { at, depth, blur: depth / (steepest * Math.sqrt(2 * Math.PI)) };
}
