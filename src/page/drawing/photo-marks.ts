/** Burns numbered marks into the pixels of a photo: always beside what they point at, dark with a light edge, so that grey print shows them on any ground. */
import { distance, fromLine } from "../../picture/geometry.js";
import type { Area, Point } from "../../picture/marks.js";
import type { Pixels } from "./jpeg.js";

/** What is drawn, in pixels of the upright photo as it came. */
export interface PhotoMarks {
  readonly pointers: readonly { readonly at: Point; readonly number: number }[];
  readonly outlines: readonly { readonly points: readonly Point[]; readonly number: number }[];
  /** Drawn as a broken line. */
  readonly area?: Area;
}

type Line = readonly [Point, Point];

/** Parts of the shorter side of the picture. */
const SIZE = { digit: 0.075, stroke: 0.009, edge: 0.007, gap: 0.022, head: 0.028, reach: 0.1, dash: 0.03 };
/** Directions tried for a pointer, from up and to the right, round the clock. */
const DIRECTIONS = Array.from({ length: 16 }, (_, i) => -Math.PI / 4 + (i * Math.PI) / 8);

/** Strokes of the figures in a box one wide and two high, from its upper left corner. */
const FIGURES: Readonly<Record<string, readonly (readonly Point[])[]>> = {
  0: [
    [
      [0.5, 0],
      [0.9, 0.3],
      [1, 1],
      [0.9, 1.7],
      [0.5, 2],
      [0.1, 1.7],
      [0, 1],
      [0.1, 0.3],
      [0.5, 0],
    ],
  ],
  1: [
    [
      [0.15, 0.45],
      [0.6, 0],
      [0.6, 2],
    ],
  ],
  2: [
    [
      [0.05, 0.45],
      [0.3, 0.05],
      [0.7, 0.05],
      [0.95, 0.45],
      [0.9, 0.85],
      [0, 2],
      [1, 2],
    ],
  ],
  3: [
    [
      [0.05, 0.3],
      [0.4, 0],
      [0.75, 0.1],
      [0.9, 0.5],
      [0.7, 0.85],
      [0.4, 0.95],
    ],
    [
      [0.4, 0.95],
      [0.8, 1.1],
      [1, 1.5],
      [0.75, 1.9],
      [0.35, 2],
      [0, 1.7],
    ],
  ],
  4: [
    [
      [0.75, 2],
      [0.75, 0],
      [0, 1.35],
      [1, 1.35],
    ],
  ],
  5: [
    [
      [0.9, 0],
      [0.15, 0],
      [0.1, 0.9],
      [0.5, 0.75],
      [0.9, 1],
      [1, 1.4],
      [0.8, 1.85],
      [0.4, 2],
      [0, 1.75],
    ],
  ],
  6: [
    [
      [0.8, 0],
      [0.3, 0.5],
      [0.05, 1.1],
      [0.1, 1.7],
      [0.5, 2],
      [0.9, 1.7],
      [0.95, 1.25],
      [0.55, 0.95],
      [0.1, 1.25],
    ],
  ],
  7: [
    [
      [0, 0],
      [1, 0],
      [0.35, 2],
    ],
  ],
  8: [
    [
      [0.5, 0.95],
      [0.15, 0.7],
      [0.15, 0.25],
      [0.5, 0],
      [0.85, 0.25],
      [0.85, 0.7],
      [0.5, 0.95],
      [0.05, 1.3],
      [0.05, 1.75],
      [0.5, 2],
      [0.95, 1.75],
      [0.95, 1.3],
      [0.5, 0.95],
    ],
  ],
  9: [
    [
      [0.9, 0.75],
      [0.45, 1.05],
      [0.05, 0.75],
      [0.1, 0.3],
      [0.5, 0],
      [0.9, 0.3],
      [0.95, 0.9],
      [0.7, 1.5],
      [0.2, 2],
    ],
  ],
};

/** Draws into the pixels in place; `factor` is how much smaller the canvas is than the photo. */
export function drawMarks(canvas: Pixels, marks: PhotoMarks, factor: number): void {
  const unit = Math.min(canvas.width, canvas.height);
  const onCanvas = ([x, y]: Point): Point => [x * factor, y * factor];
  const taken: Point[] = [
    ...marks.pointers.map(({ at }) => onCanvas(at)),
    ...marks.outlines.flatMap(({ points }) => points.map(onCanvas)),
  ];
  if (marks.area)
    stroke(
      canvas,
      dashed(edgeOf(marks.area).map(onCanvas), unit * SIZE.dash),
      unit * SIZE.stroke * 0.6,
      unit * SIZE.edge * 0.6,
    );
  const lines: Line[] = [];
  const labels: { readonly middle: Point; readonly number: number }[] = [];
  for (const { points, number } of marks.outlines) {
    const around = grown(points.map(onCanvas), unit * SIZE.gap);
    lines.push(...closed(around));
    const top = around.reduce((best, point) => (point[1] < best[1] ? point : best));
    labels.push({ middle: kept(canvas, [top[0], top[1] - unit * SIZE.digit * 0.8], unit), number });
  }
  for (const { at, number } of marks.pointers) {
    const tip = onCanvas(at);
    const way = freest(canvas, tip, [...taken, ...labels.map(({ middle }) => middle)], unit);
    const along = (far: number): Point => [tip[0] + Math.cos(way) * far, tip[1] + Math.sin(way) * far];
    const near = along(unit * SIZE.gap);
    const end = along(unit * (SIZE.gap + SIZE.reach));
    lines.push([near, end]);
    for (const side of [-0.5, 0.5])
      lines.push([
        near,
        [
          near[0] + Math.cos(way + side) * unit * SIZE.head,
          near[1] + Math.sin(way + side) * unit * SIZE.head,
        ],
      ]);
    labels.push({ middle: along(unit * (SIZE.gap + SIZE.reach + SIZE.digit * 0.75)), number });
  }
  for (const { middle, number } of labels) lines.push(...figures(String(number), middle, unit * SIZE.digit));
  stroke(canvas, lines, unit * SIZE.stroke, unit * SIZE.edge);
}

/** The direction in which pointer and number are furthest from everything marked, within the picture. */
function freest({ width, height }: Pixels, tip: Point, taken: readonly Point[], unit: number): number {
  const far = unit * (SIZE.gap + SIZE.reach + SIZE.digit * 0.75);
  const margin = unit * SIZE.digit * 0.8;
  let best = DIRECTIONS[0] ?? 0;
  let most = Number.NEGATIVE_INFINITY;
  for (const way of DIRECTIONS) {
    const end: Point = [tip[0] + Math.cos(way) * far, tip[1] + Math.sin(way) * far];
    const inside = Math.min(
      end[0] - margin,
      end[1] - margin,
      width - margin - end[0],
      height - margin - end[1],
    );
    const others = taken.filter((point) => distance(point, tip) > 1);
    const clear = Math.min(unit, ...others.map((point) => fromLine(tip, end, point)));
    const score = inside < 0 ? inside * 10 - unit : clear;
    if (score > most + 1e-9) {
      most = score;
      best = way;
    }
  }
  return best;
}

const kept = ({ width, height }: Pixels, [x, y]: Point, unit: number): Point => {
  const margin = unit * SIZE.digit * 0.8;
  return [Math.min(width - margin, Math.max(margin, x)), Math.min(height - margin, Math.max(margin, y))];
};

function figures(text: string, [x, y]: Point, high: number): Line[] {
  const wide = high / 2;
  const step = wide * 1.45;
  const left = x - (step * (text.length - 1) + wide) / 2;
  return [...text].flatMap((figure, i) =>
    (FIGURES[figure] ?? []).flatMap((path) =>
      path.slice(1).map((to, j): Line => {
        const at = ([u, v]: Point): Point => [left + i * step + u * wide, y - high / 2 + v * wide];
        return [at(path[j] ?? to), at(to)];
      }),
    ),
  );
}

/** An outline moved outwards from its middle, so that it never hides the margin it shows. */
function grown(points: readonly Point[], by: number): Point[] {
  const middle: Point = [
    points.reduce((sum, [x]) => sum + x, 0) / points.length,
    points.reduce((sum, [, y]) => sum + y, 0) / points.length,
  ];
  return points.map((point) => {
    const far = Math.max(1, distance(point, middle));
    return [point[0] + ((point[0] - middle[0]) / far) * by, point[1] + ((point[1] - middle[1]) / far) * by];
  });
}

const closed = (points: readonly Point[]): Line[] =>
  points.map((from, i): Line => [from, points[(i + 1) % points.length] ?? from]);

function edgeOf(area: Area): Point[] {
  if (area.kind === "polygon") return [...area.corners];
  if (area.kind === "rectangle") {
    const [[ax, ay], [bx, by]] = [area.from, area.to];
    return [
      [ax, ay],
      [bx, ay],
      [bx, by],
      [ax, by],
    ];
  }
  return Array.from({ length: 180 }, (_, i): Point => {
    const turn = (i * Math.PI) / 90;
    return [area.centre[0] + Math.cos(turn) * area.radiusPx, area.centre[1] + Math.sin(turn) * area.radiusPx];
  });
}

/** A closed line broken into dashes, each as long as the space after it. */
function dashed(points: readonly Point[], dash: number): Line[] {
  const dashes: Line[] = [];
  let gone = 0;
  for (const [from, to] of closed(points)) {
    const length = distance(from, to);
    for (let at = 0; at < length; ) {
      const left = dash - (gone % dash);
      const step = Math.min(left, length - at);
      const on = Math.floor(gone / dash) % 2 === 0;
      const point = (far: number): Point => [
        from[0] + ((to[0] - from[0]) * far) / length,
        from[1] + ((to[1] - from[1]) * far) / length,
      ];
      if (on) dashes.push([point(at), point(at + step)]);
      at += Math.max(step, 1e-6);
      gone += Math.max(step, 1e-6);
    }
  }
  return dashes;
}

/** Lines with round ends: light at the edge, dark within. The edges come first, so that lines that meet stay dark. */
function stroke(canvas: Pixels, lines: readonly Line[], wide: number, edge: number): void {
  const half = Math.max(1, wide / 2);
  for (const line of lines) paint(canvas, line, half + Math.max(1, edge), 255);
  for (const line of lines) paint(canvas, line, half, 15);
}

function paint({ data, width, height }: Pixels, [from, to]: Line, half: number, value: number): void {
  const reach = half + 1;
  const [left, right] = [Math.min(from[0], to[0]) - reach, Math.max(from[0], to[0]) + reach];
  const [top, bottom] = [Math.min(from[1], to[1]) - reach, Math.max(from[1], to[1]) + reach];
  for (let y = Math.max(0, Math.floor(top)); y < Math.min(height, bottom); y++) {
    for (let x = Math.max(0, Math.floor(left)); x < Math.min(width, right); x++) {
      const cover = Math.min(1, Math.max(0, half + 0.5 - fromLine(from, to, [x + 0.5, y + 0.5])));
      if (cover === 0) continue;
      const at = (y * width + x) * 3;
      for (let c = at; c < at + 3; c++) data[c] = Math.round((data[c] ?? 0) * (1 - cover) + value * cover);
    }
  }
}
