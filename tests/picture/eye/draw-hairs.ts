/** Pictures of hairs whose truth is known: where each leaves the skin, where it ends, how wide it is. */
import { seededDraws } from "../../../src/base/draws.js";
import type { Rgba } from "../../../src/picture/eye/grey.js";
import { distance } from "../../../src/picture/geometry.js";
import type { Point } from "../../../src/picture/marks.js";

export interface Scene {
  readonly name: string;
  readonly hairs: number;
  /** How far the directions differ, in radians: 3.1 is any direction. */
  readonly fan: number;
  /** Widths in pixels. */
  readonly width: readonly [number, number];
  readonly length: readonly [number, number];
  /** Part of the hairs that leave the skin beside another. */
  readonly together: number;
  readonly blur: number;
  readonly noise: number;
  readonly glare: number;
  readonly skin: Colour;
  readonly hair: Colour;
  /** Hairs may run out of the picture; their truth ends at its edge. */
  readonly edge?: boolean;
}

type Colour = readonly [number, number, number];

export interface DrawnHair {
  readonly path: readonly Point[];
  readonly width: number;
}

export interface Drawn {
  readonly picture: Rgba;
  readonly hairs: readonly DrawnHair[];
}

export const PLAIN: Scene = {
  name: "plain: 80 dark hairs on light skin",
  hairs: 80,
  fan: 0.5,
  width: [5, 9],
  length: [110, 260],
  together: 0.5,
  blur: 0.9,
  noise: 4,
  glare: 0,
  skin: [214, 176, 152],
  hair: [52, 38, 32],
};

export const SCENES: readonly Scene[] = [
  PLAIN,
  { ...PLAIN, name: "sparse: 30 hairs", hairs: 30 },
  { ...PLAIN, name: "dense: 160 hairs", hairs: 160 },
  { ...PLAIN, name: "crossing: any direction", fan: 3.1, together: 0.3 },
  { ...PLAIN, name: "thin: 2 to 4 px wide", width: [2, 4] },
  { ...PLAIN, name: "units: nine in ten together", together: 0.9 },
  { ...PLAIN, name: "blur of 2 px", blur: 2 },
  { ...PLAIN, name: "blur of 4 px", blur: 4 },
  { ...PLAIN, name: "glare over 3 % of the skin", glare: 0.03 },
  { ...PLAIN, name: "noise of 15 grey values", noise: 15 },
  { ...PLAIN, name: "grey hair on light skin", hair: [188, 172, 160] },
  { ...PLAIN, name: "black hair on dark skin", skin: [92, 64, 50], hair: [34, 26, 24] },
  { ...PLAIN, name: "light hair on dark skin", skin: [92, 64, 50], hair: [190, 164, 128] },
  { ...PLAIN, name: "running out of the picture", fan: 3.1, together: 0.2, length: [220, 420], edge: true },
];

export interface Size {
  readonly width: number;
  readonly height: number;
}

export const SIZE: Size = { width: 1600, height: 1250 };

export function draw(scene: Scene, seed: string, size = SIZE): Drawn {
  const { width, height } = size;
  const random = seededDraws(`${scene.name} ${seed}`);
  const uniform = (from: number, to: number) => from + (to - from) * random.uniform();
  const value = new Float32Array(width * height);
  const hairs: DrawnHair[] = [];
  const roots: Point[] = [];
  const lean = uniform(-3.1, 3.1);
  let unit = 0;
  while (hairs.length < scene.hairs) {
    const beside = roots.at(-1);
    const isTogether = beside !== undefined && unit < 3 && random.uniform() < scene.together;
    const root: Point = isTogether
      ? [beside[0] + uniform(-6, 6), beside[1] + uniform(-6, 6)]
      : [uniform(40, width - 40), uniform(40, height - 40)];
    if (!isTogether && roots.some((other) => distance(other, root) < 34)) continue;
    let way = lean + uniform(-scene.fan, scene.fan);
    const bend = uniform(-0.0012, 0.0012);
    const path: Point[] = [root];
    for (let left = uniform(...scene.length); left > 0; left -= 4) {
      const [x, y] = path.at(-1) ?? root;
      way += 4 * bend;
      path.push([x + 4 * Math.cos(way), y + 4 * Math.sin(way)]);
    }
    const last = path.at(-1) ?? root;
    const isWithin = ([x, y]: Point) => x >= 5 && y >= 5 && x <= width - 5 && y <= height - 5;
    if (!isWithin(last)) {
      // Elsewhere a hair that ends outside the picture has no tip to be judged by.
      if (!scene.edge) continue;
      const out = path.findIndex((point) => !isWithin(point));
      if (out < 4) continue;
      path.length = out;
    }
    unit = isTogether ? unit + 1 : 1;
    roots.push(isTogether ? (beside ?? root) : root);
    hairs.push({ path, width: uniform(...scene.width) });
  }
  for (const hair of hairs) paint(value, hair, size);
  const soft = scene.blur > 0 ? soften(value, scene.blur, size) : value;
  const lamp = new Float32Array(width * height);
  let lit = 0;
  while (lit < scene.glare * width * height)
    lit += shine(
      lamp,
      size,
      uniform(60, width - 60),
      uniform(60, height - 60),
      uniform(8, 30),
      uniform(4, 14),
      uniform(0, 3.1),
    );
  const data = new Uint8ClampedArray(width * height * 4);
  for (let i = 0; i < value.length; i++) {
    const x = i % width;
    const y = Math.floor(i / width);
    const shade =
      7 * Math.sin(x / 97) * Math.cos(y / 71) -
      14 * (((x - width / 2) / width) ** 2 + ((y - height / 2) / height) ** 2);
    const grain =
      scene.noise * Math.sqrt(-2 * Math.log(1 - random.uniform())) * Math.cos(6.283 * random.uniform());
    const cover = soft[i] ?? 0;
    const light = lamp[i] ?? 0;
    for (let c = 0; c < 3; c++) {
      const skin = (scene.skin[c] ?? 0) + shade;
      const seen = skin + ((scene.hair[c] ?? 0) - skin) * cover;
      data[4 * i + c] = seen + (255 - seen) * light + grain;
    }
    data[4 * i + 3] = 255;
  }
  return { picture: { width, height, data }, hairs };
}

function paint(value: Float32Array, { path, width: wide }: DrawnHair, { width, height }: Size): void {
  const reach = wide / 2 + 1;
  for (const [i, to] of path.entries()) {
    const from = path[i - 1];
    if (!from) continue;
    for (let y = Math.floor(Math.min(from[1], to[1]) - reach); y <= Math.max(from[1], to[1]) + reach; y++) {
      for (let x = Math.floor(Math.min(from[0], to[0]) - reach); x <= Math.max(from[0], to[0]) + reach; x++) {
        if (x < 0 || y < 0 || x >= width || y >= height) continue;
        const dx = to[0] - from[0];
        const dy = to[1] - from[1];
        const t = Math.min(
          1,
          Math.max(0, ((x + 0.5 - from[0]) * dx + (y + 0.5 - from[1]) * dy) / (dx * dx + dy * dy)),
        );
        const far = Math.hypot(x + 0.5 - from[0] - t * dx, y + 0.5 - from[1] - t * dy);
        const at = y * width + x;
        value[at] = Math.max(value[at] ?? 0, Math.min(1, Math.max(0, wide / 2 + 0.5 - far)));
      }
    }
  }
}

/** A spot of the lamp; returns how many pixels it takes. */
function shine(
  lamp: Float32Array,
  { width, height }: Size,
  x: number,
  y: number,
  a: number,
  b: number,
  turn: number,
): number {
  let lit = 0;
  for (let v = -40; v <= 40; v++) {
    for (let u = -40; u <= 40; u++) {
      const along = u * Math.cos(turn) + v * Math.sin(turn);
      const across = v * Math.cos(turn) - u * Math.sin(turn);
      const far = Math.hypot(along / a, across / b);
      const [i, j] = [Math.round(x + u), Math.round(y + v)];
      if (far >= 1.2 || i < 0 || j < 0 || i >= width || j >= height) continue;
      lamp[j * width + i] = Math.max(lamp[j * width + i] ?? 0, Math.min(1, (1.2 - far) / 0.25));
      lit++;
    }
  }
  return lit;
}

/** A Gaussian blur of its own, so that nothing is judged by what it uses itself. */
function soften(value: Float32Array, sigma: number, { width, height }: Size): Float32Array {
  const reach = Math.ceil(3.5 * sigma);
  const kernel = Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-((i - reach) ** 2) / (2 * sigma ** 2)),
  );
  const sum = kernel.reduce((a, b) => a + b, 0);
  const pass = (from: Float32Array, dx: number, dy: number) => {
    const to = new Float32Array(from.length);
    for (let y = 0; y < height; y++) {
      for (let x = 0; x < width; x++) {
        let total = 0;
        for (let k = -reach; k <= reach; k++) {
          const u = Math.min(width - 1, Math.max(0, x + k * dx));
          const v = Math.min(height - 1, Math.max(0, y + k * dy));
          total += (kernel[k + reach] ?? 0) * (from[v * width + u] ?? 0);
        }
        to[y * width + x] = total / sum;
      }
    }
    return to;
  };
  return pass(pass(value, 1, 0), 0, 1);
}
