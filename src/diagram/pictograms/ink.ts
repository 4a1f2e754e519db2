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
  /** Made when the sign is first drawn: a command draws few of them. */
  readonly marks: () => readonly Mark[];
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

/** Skin of phototypes I to III, of IV, and of V and VI: grounds, and the inks that would be lost or untrue on darker skin. */
export const TONES = {
  light: { grounds: { pale: "#f8f2ec", deep: "#cdb9a6", red: "#f3cdc8" }, inks: {} },
  medium: {
    grounds: { pale: "#e9d3bb", deep: "#bd9f82", red: "#e0b3a2" },
    inks: { flush: area("#d08c80"), flushLine: stroke("#9a3f42", 0.8), halo: area("#9c7048") },
  },
  // On dark skin redness looks dusky.
  dark: {
    grounds: { pale: "#c99f78", deep: "#a37c5b", red: "#b98370" },
    inks: {
      flush: area("#a05a58"),
      flushLine: stroke("#6d2029", 1),
      halo: area("#7b5130"),
      brown: stroke("#53310f", 1),
      brownBody: area("#53310f"),
      vessel: stroke("#7f0f1b", 1.5),
      vesselBody: area("#7f0f1b"),
      fine: stroke("#2f2722", 1.1),
      down: stroke("#3d332c", 0.85),
      shadow: stroke("#5d4330", 0.8),
    },
  },
} as const satisfies Record<
  string,
  { grounds: Record<"pale" | "deep" | "red", string>; inks: Partial<Record<Ink, object>> }
>;
export type Tone = keyof typeof TONES;

/** Tone of the drawings for a Fitzpatrick phototype; light where none was recorded. */
export function toneOf(phototype: string | undefined): Tone {
  return phototype === "V" || phototype === "VI" ? "dark" : phototype === "IV" ? "medium" : "light";
}

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

/** Pieces of a collar round a centre, each from one angle to another (degrees), ragged outside as flakes are. */
export function collar(
  cx: number,
  cy: number,
  inner: number,
  outer: number,
  ...spans: readonly (readonly [from: number, to: number])[]
): string {
  const at = (degrees: number, r: number): Point => {
    const t = (degrees * Math.PI) / 180;
    return [cx + r * Math.cos(t), cy + r * Math.sin(t)];
  };
  return spans
    .map(([from, to], i) => {
      const steps = [0, 0.25, 0.5, 0.75, 1].map((s) => from + s * (to - from));
      const outside = steps.map((angle, k) => at(angle, outer * ((k + i) % 2 === 0 ? 0.84 : 1)));
      return linePath([...outside, ...[...steps].reverse().map((angle) => at(angle, inner))], true);
    })
    .join("");
}
