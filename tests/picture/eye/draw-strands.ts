/**
 * A second way to draw hairs of known truth, made without the first: Bézier curves that taper from root to tip, each painted as a round
 * strand with its own colour, a light along its ridge and a shadow beside it, on skin with relief, openings, vessels, scale and bubbles,
 * through a lens that darkens to its edge and a real JPEG. The eye was mended once after seeing them (README).
 */
import jpeg from "jpeg-js";
import { seededDraws } from "../../../src/base/draws.js";
import type { Rgba } from "../../../src/picture/eye/grey.js";
import type { Point } from "../../../src/picture/marks.js";
import { type Drawn, type DrawnHair, SIZE } from "./draw-hairs.js";

type Colour = readonly [number, number, number];

export interface StrandScene {
  readonly name: string;
  readonly hairs: number;
  /** Widths at the root, in pixels; the tip has a third of it. */
  readonly width: readonly [number, number];
  readonly length: readonly [number, number];
  /** How far a hair swings from its straight line, as a part of its length. */
  readonly swing: number;
  /** How far directions differ, in radians. */
  readonly fan: number;
  readonly skin: Colour;
  readonly hair: Colour;
  /** How much hairs differ from each other in colour, in grey values. */
  readonly mixed: number;
  /** Each so many on the picture. */
  readonly openings: number;
  readonly vessels: number;
  readonly flakes: number;
  readonly bubbles: number;
  /** Pixels that the hand moved while the picture was taken. */
  readonly shake: number;
  readonly quality: number;
}

const STRANDS: StrandScene = {
  name: "tapering curves, clean skin",
  hairs: 80,
  width: [6, 11],
  length: [120, 330],
  swing: 0.12,
  fan: 0.6,
  skin: [216, 174, 156],
  hair: [66, 46, 36],
  mixed: 14,
  openings: 30,
  vessels: 0,
  flakes: 0,
  bubbles: 0,
  shake: 1,
  quality: 88,
};

export const STRAND_SCENES: readonly StrandScene[] = [
  STRANDS,
  { ...STRANDS, name: "strong curls", swing: 0.45, fan: 3.1 },
  { ...STRANDS, name: "vessels and red skin", vessels: 25, skin: [206, 146, 132] },
  { ...STRANDS, name: "scale", flakes: 130 },
  { ...STRANDS, name: "bubbles of the immersion", bubbles: 40 },
  { ...STRANDS, name: "hand moved by 6 px", shake: 6 },
  { ...STRANDS, name: "JPEG of quality 40", quality: 40 },
  { ...STRANDS, name: "half of the hairs fine", width: [2.5, 10], mixed: 26 },
  { ...STRANDS, name: "dark skin, black hair", skin: [104, 74, 58], hair: [30, 24, 22], openings: 120 },
  { ...STRANDS, name: "light skin, fair hair", hair: [170, 136, 98], mixed: 20 },
  {
    ...STRANDS,
    name: "all of it",
    hairs: 110,
    vessels: 12,
    flakes: 60,
    bubbles: 18,
    shake: 3,
    swing: 0.25,
    fan: 1.4,
  },
];

const { width: W, height: H } = SIZE;

export function drawStrands(scene: StrandScene, seed: string): Drawn {
  const { uniform: chance } = seededDraws(`${scene.name} strands ${seed}`);
  const between = (from: number, to: number) => from + (to - from) * chance();
  const somewhere = (): Point => [between(0, W), between(0, H)];
  const canvas = skinOf(scene, chance);
  for (let i = 0; i < scene.openings; i++)
    dab(canvas, somewhere(), between(3, 7), (far) => 0.35 * (1 - far), [96, 62, 46]);
  for (let i = 0; i < scene.vessels; i++) vessel(canvas, somewhere(), between);
  const hairs: DrawnHair[] = [];
  const lean = between(-Math.PI, Math.PI);
  while (hairs.length < scene.hairs) {
    const way = lean + between(-scene.fan, scene.fan);
    const length = between(...scene.length);
    const root: Point = [between(45, W - 45), between(45, H - 45)];
    const side = scene.swing * length * between(-1, 1);
    const turn = scene.swing * length * between(-1, 1);
    const on = (along: number, across: number): Point => [
      root[0] + along * Math.cos(way) - across * Math.sin(way),
      root[1] + along * Math.sin(way) + across * Math.cos(way),
    ];
    const path = bezier(root, on(length / 3, side), on((2 * length) / 3, turn), on(length, 0));
    if (path.some(([x, y]) => x < 8 || y < 8 || x > W - 8 || y > H - 8)) continue;
    if (hairs.some(({ path: other }) => apart(other[0], root) < 30)) continue;
    const wide = between(...scene.width);
    const tone = scene.mixed * between(-1, 1);
    strand(canvas, path, wide, scene.hair.map((c) => c + tone) as unknown as Colour);
    // From a full root to a third at the tip, two thirds on average.
    hairs.push({ path, width: (2 / 3) * wide });
  }
  for (let i = 0; i < scene.flakes; i++) {
    const stretch = between(0.4, 1);
    dab(canvas, somewhere(), between(5, 16), (far) => (far < 0.8 ? 0.75 : 0.3), [244, 236, 222], stretch);
  }
  for (let i = 0; i < scene.bubbles; i++) bubble(canvas, somewhere(), between(8, 34));
  return { picture: photographed(shaken(canvas, scene.shake, between(0, Math.PI)), scene.quality), hairs };
}

const apart = (a: Point | undefined, b: Point): number =>
  a ? Math.hypot(a[0] - b[0], a[1] - b[1]) : Number.POSITIVE_INFINITY;

/** Points about two pixels apart. */
function bezier(a: Point, b: Point, c: Point, d: Point): Point[] {
  const steps = Math.ceil(apart(a, d) / 2) + 8;
  return Array.from({ length: steps + 1 }, (_, i) => {
    const [t, u] = [i / steps, 1 - i / steps];
    const part = (k: 0 | 1) => u ** 3 * a[k] + 3 * u * u * t * b[k] + 3 * u * t * t * c[k] + t ** 3 * d[k];
    return [part(0), part(1)];
  });
}

/** Relief in three sizes, between random heights, darker towards the edge of the lens. */
function skinOf({ skin }: StrandScene, chance: () => number): Float32Array {
  const canvas = new Float32Array(3 * W * H);
  const reliefs = (
    [
      [90, 9],
      [28, 6],
      [7, 4],
    ] as const
  ).map(([cell, depth]) => {
    const across = Math.ceil(W / cell) + 2;
    const heights = Float32Array.from({ length: across * (Math.ceil(H / cell) + 2) }, () => chance() - 0.5);
    return { cell, depth, across, heights };
  });
  for (let y = 0; y < H; y++)
    for (let x = 0; x < W; x++) {
      let relief = 0;
      for (const { cell, depth, across, heights } of reliefs) {
        const [gx, gy] = [Math.floor(x / cell), Math.floor(y / cell)];
        const [fx, fy] = [x / cell - gx, y / cell - gy];
        const at = (i: number, j: number) => heights[(gy + j) * across + gx + i] ?? 0;
        const upper = at(0, 0) * (1 - fx) + at(1, 0) * fx;
        const lower = at(0, 1) * (1 - fx) + at(1, 1) * fx;
        relief += depth * (upper * (1 - fy) + lower * fy);
      }
      const lens = 1 - 0.3 * ((x / W - 0.5) ** 2 + (y / H - 0.5) ** 2);
      for (let c = 0; c < 3; c++) canvas[3 * (y * W + x) + c] = ((skin[c] ?? 0) + relief) * lens;
    }
  return canvas;
}

function blend(canvas: Float32Array, x: number, y: number, part: number, colour: Colour): void {
  if (x < 0 || y < 0 || x >= W || y >= H || part <= 0) return;
  const at = 3 * (y * W + x);
  for (let c = 0; c < 3; c++) canvas[at + c] = (canvas[at + c] ?? 0) * (1 - part) + (colour[c] ?? 0) * part;
}

/** A round or oval dab; `cover` by the distance from its middle, 1 at its rim. */
function dab(
  canvas: Float32Array,
  [x, y]: Point,
  radius: number,
  cover: (far: number) => number,
  colour: Colour,
  stretch = 1,
): void {
  for (let j = Math.floor(y - radius); j <= y + radius; j++)
    for (let i = Math.floor(x - radius); i <= x + radius; i++) {
      const far = Math.hypot(i - x, (j - y) / stretch) / radius;
      if (far <= 1) blend(canvas, i, j, cover(far), colour);
    }
}

function vessel(canvas: Float32Array, [x, y]: Point, between: (a: number, b: number) => number): void {
  const [wide, faint] = [between(1.5, 3.5), between(0.12, 0.3)];
  let [px, py, way] = [x, y, between(0, 6.28)];
  for (let i = 0; i < 90; i++) {
    way += between(-0.35, 0.35);
    px += 1.5 * Math.cos(way);
    py += 1.5 * Math.sin(way);
    dab(canvas, [px, py], wide, (far) => faint * (1 - far), [176, 48, 52]);
  }
}

function bubble(canvas: Float32Array, at: Point, radius: number): void {
  dab(canvas, at, radius, (far) => (far > 0.86 ? 0.55 : 0), [58, 46, 42]);
  dab(canvas, at, 0.86 * radius, (far) => (far > 0.8 ? 0.5 : 0.12), [250, 248, 244]);
  dab(canvas, [at[0] - radius / 3, at[1] - radius / 3], radius / 5, () => 0.9, [255, 255, 255]);
}

/** A round strand: shadow at one side, dark flanks, a light along the ridge. Painted over what lies below it. */
function strand(canvas: Float32Array, path: readonly Point[], wide: number, colour: Colour): void {
  const covered = new Map<number, { readonly far: number; readonly half: number }>();
  const shade = new Map<number, number>();
  for (const [i, [x, y]] of path.entries()) {
    const half = (wide / 2) * (1 - ((2 / 3) * i) / (path.length - 1));
    for (let v = Math.floor(y - half - 4); v <= y + half + 4; v++)
      for (let u = Math.floor(x - half - 4); u <= x + half + 4; u++) {
        if (u < 0 || v < 0 || u >= W || v >= H) continue;
        const far = Math.hypot(u + 0.5 - x, v + 0.5 - y);
        const before = covered.get(v * W + u);
        if (far < half + 0.7 && (!before || far - half < before.far - before.half))
          covered.set(v * W + u, { far, half });
        const below = Math.hypot(u + 0.5 - x - 2, v + 0.5 - y - 2) - half;
        if (below < 2)
          shade.set(v * W + u, Math.max(shade.get(v * W + u) ?? 0, 0.12 * Math.min(1, 2 - below)));
      }
  }
  for (const [at, part] of shade) blend(canvas, at % W, Math.floor(at / W), part, [40, 30, 28]);
  for (const [at, { far, half }] of covered) {
    const ridge = Math.max(0, 1 - far / (0.45 * half));
    const lit = colour.map((c) => c + 34 * ridge) as unknown as Colour;
    blend(canvas, at % W, Math.floor(at / W), Math.min(1, Math.max(0, (half + 0.7 - far) / 1.2)), lit);
  }
}

/** The mean along the way that the hand took. */
function shaken(canvas: Float32Array, far: number, way: number): Float32Array {
  const steps = Math.max(1, Math.round(far) + 1);
  const out = new Float32Array(canvas.length);
  for (let s = 0; s < steps; s++) {
    const along = steps === 1 ? 0 : far * (s / (steps - 1) - 0.5);
    const [dx, dy] = [Math.round(along * Math.cos(way)), Math.round(along * Math.sin(way))];
    for (let y = 0; y < H; y++)
      for (let x = 0; x < W; x++) {
        const from = Math.min(H - 1, Math.max(0, y + dy)) * W + Math.min(W - 1, Math.max(0, x + dx));
        for (let c = 0; c < 3; c++)
          out[3 * (y * W + x) + c] = (out[3 * (y * W + x) + c] ?? 0) + (canvas[3 * from + c] ?? 0) / steps;
      }
  }
  return out;
}

function photographed(canvas: Float32Array, quality: number): Rgba {
  const data = Buffer.alloc(4 * W * H, 255);
  for (let i = 0; i < W * H; i++)
    for (let c = 0; c < 3; c++)
      data[4 * i + c] = Math.min(255, Math.max(0, Math.round(canvas[3 * i + c] ?? 0)));
  const seen = jpeg.decode(jpeg.encode({ width: W, height: H, data }, quality).data, { useTArray: true });
  return { width: W, height: H, data: new Uint8ClampedArray(seen.data) };
}
