/**
 * The drawing grammar of the pictograms: a round field of skin, hair in near-black, openings as small rings, vessels
 * in dark red, pigment in brown. Every sign must read by its shape alone, colour only helps.
 */
import { type Point, smooth } from "../curve.js";
import { curvePath, linePath, num } from "../svg.js";

/** How a stroke or an area is inked; each has one place in INKS. */
export type Ink = keyof typeof INKS;

/** One mark: its ink, its path data and, for strokes, a width other than the ink's own. */
export type Mark = readonly [ink: Ink, d: string, width?: number];

/** A sign as drawn in a field of 48 by 48; `ground` is the skin it stands on. */
export interface Sign {
  readonly ground?: "pale" | "deep" | "red";
  readonly marks: readonly Mark[];
}

const stroke = (colour: string, width: number) => ({ fill: "none", stroke: colour, "stroke-width": width });
const area = (fill: string, edge?: string) => ({
  fill,
  ...(edge === undefined ? {} : { stroke: edge, "stroke-width": 0.8 }),
});

export const INKS = {
  hair: stroke("#1f1a17", 2.4),
  fine: stroke("#4a423c", 1.1),
  down: stroke("#6f665f", 0.75),
  hairBody: area("#1f1a17"),
  grown: area("#8a7f76", "#1f1a17"),
  white: area("#ffffff", "#3c3530"),
  whiteFlat: area("#ffffff"),
  opening: area("#e6d9cd", "#3c3530"),
  openingDark: area("#1f1a17", "#1f1a17"),
  vessel: stroke("#9c1f26", 1.3),
  vesselBody: area("#9c1f26"),
  blood: area("#7a1218"),
  flush: area("#e9a9a4"),
  flushLine: stroke("#b8565a", 0.8),
  yellow: area("#efc75e", "#8a6414"),
  yellowFlat: area("#f3dc9a"),
  yellowLine: stroke("#8a6414", 0.8),
  brown: stroke("#7a4d22", 1),
  brownBody: area("#7a4d22"),
  halo: area("#b98d63"),
  grey: area("#6d7784"),
  scale: area("#ffffff", "#6f6a64"),
  shadow: stroke("#8b8078", 0.8),
  ghost: { ...stroke("#8b8078", 0.9), "stroke-dasharray": "2 1.8" },
  light: stroke("#ffffff", 1.2),
} as const;

export const GROUNDS = { pale: "#f8f2ec", deep: "#cdb9a6", red: "#f3cdc8" } as const;

/** Full discs, each `[x, y, radius]`. */
export function dots(...all: readonly (readonly [x: number, y: number, r: number])[]): string {
  return all
    .map(
      ([x, y, r]) =>
        `M${num(x - r)} ${num(y)}a${num(r)} ${num(r)} 0 1 0 ${num(2 * r)} 0a${num(r)} ${num(r)} 0 1 0 ${num(-2 * r)} 0Z`,
    )
    .join("");
}

/** A smooth line through the points. */
export function line(...points: readonly Point[]): string {
  return curvePath(smooth(points));
}

/** A smooth closed outline through the points. */
export function blob(...points: readonly Point[]): string {
  return curvePath(smooth(points, true), true);
}

/** A line with corners; closed when asked. */
export function bent(points: readonly Point[], closed = false): string {
  return linePath(points, closed);
}

/** A shaft of changing thickness: knots `[x, y, width]` joined smoothly, ends cut straight. */
export function ribbon(...knots: readonly (readonly [x: number, y: number, width: number])[]): string {
  const sides = knots.map(([x, y, width], i) => {
    const before = knots[Math.max(0, i - 1)]!;
    const after = knots[Math.min(knots.length - 1, i + 1)]!;
    const length = Math.hypot(after[0] - before[0], after[1] - before[1]) || 1;
    const nx = (-(after[1] - before[1]) / length) * (width / 2);
    const ny = ((after[0] - before[0]) / length) * (width / 2);
    return { one: [x + nx, y + ny] as Point, other: [x - nx, y - ny] as Point };
  });
  const there = curvePath(smooth(sides.map((s) => s.one)));
  const back = curvePath(smooth([...sides].reverse().map((s) => s.other)));
  return `${there}L${back.slice(1)}Z`;
}

/** Small circles round a centre, evenly spaced; `turn` in degrees. */
export function ringOf(cx: number, cy: number, radius: number, count: number, r: number, turn = 0): string {
  return dots(
    ...Array.from({ length: count }, (_, i) => {
      const t = ((turn + (360 * i) / count) * Math.PI) / 180;
      return [cx + radius * Math.cos(t), cy + radius * Math.sin(t), r] as const;
    }),
  );
}

/** Strokes outwards from a centre, from `inner` to `outer`. */
export function rays(cx: number, cy: number, inner: number, outer: number, count: number, turn = 0): string {
  return Array.from({ length: count }, (_, i) => {
    const t = ((turn + (360 * i) / count) * Math.PI) / 180;
    return linePath([
      [cx + inner * Math.cos(t), cy + inner * Math.sin(t)],
      [cx + outer * Math.cos(t), cy + outer * Math.sin(t)],
    ]);
  }).join("");
}

/** A spiral from `r0` to `r1` over `turns`, starting at `from` degrees. */
export function spiral(cx: number, cy: number, r0: number, r1: number, turns: number, from = 0): string {
  const steps = Math.max(6, Math.ceil(turns * 10));
  return line(
    ...Array.from({ length: steps + 1 }, (_, i): Point => {
      const t = ((from + 360 * turns * (i / steps)) * Math.PI) / 180;
      const r = r0 + (r1 - r0) * (i / steps);
      return [cx + r * Math.cos(t), cy + r * Math.sin(t)];
    }),
  );
}

/** Flakes standing round a centre like a collar, each from `inner` to `outer`. */
export function petals(cx: number, cy: number, inner: number, outer: number, count: number): string {
  return Array.from({ length: count }, (_, i) => {
    const at = (degrees: number, r: number): Point => {
      const t = (((360 * i) / count + degrees) * Math.PI) / 180;
      return [cx + r * Math.cos(t), cy + r * Math.sin(t)];
    };
    const half = 140 / count;
    // Flakes are ragged: every other one is longer, and none is quite square.
    const reach = i % 2 === 0 ? outer : outer * 0.86;
    return linePath(
      [
        at(-half * 0.7, inner),
        at(-half, reach),
        at(half * 0.3, reach * 1.06),
        at(half, reach * 0.92),
        at(half * 0.7, inner),
      ],
      true,
    );
  }).join("");
}
