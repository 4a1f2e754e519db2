/** One value with its interval against a normal range, small enough for a table row; and two values side by side. */
import { drawing, element, linePath } from "../svg.js";
import { label, textWidth } from "../text.js";
import { axisFor, clamp, short } from "./axis.js";
import { type NormalRange, sayNormal, sayValue, spacedUnit } from "./normal.js";
import { type ChartWords, ENGLISH_CHART_WORDS } from "./phrases.js";

export interface Measured {
  readonly label: string;
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
}

export interface RangeBarInput {
  readonly measured: Measured;
  readonly unit: string;
  readonly normal?: NormalRange;
  /** In points; default 120 by 20. */
  readonly width?: number;
  readonly height?: number;
  readonly words?: ChartWords;
}

/** A track with the normal range as a grey band, the interval as a line and the value as a dot. */
export function rangeBar(input: RangeBarInput): { svg: string; alt: string } {
  const { measured, normal } = input;
  const words = input.words ?? ENGLISH_CHART_WORDS;
  const unit = spacedUnit(input.unit);
  const width = Math.max(input.width ?? 120, 60);
  const height = Math.max(input.height ?? 20, 16);
  const axis = axisFor(
    [measured.value, measured.low, measured.high, normal?.low, normal?.high].filter((v) => v !== undefined),
    3,
  );
  const inset = 4;
  const x = (value: number) => inset + axis.place(value) * (width - 2 * inset);
  const mid = height - 10.5;
  const parts: string[] = [];
  if (normal !== undefined && (normal.low !== undefined || normal.high !== undefined)) {
    const from = normal.low === undefined ? inset : x(normal.low);
    const to = normal.high === undefined ? width - inset : x(normal.high);
    parts.push(
      element("rect", {
        x: Math.min(from, to),
        y: mid - 4.5,
        width: Math.abs(to - from),
        height: 9,
        fill: "#dadada",
        stroke: "#8a8a8a",
        "stroke-width": 0.4,
      }),
    );
  }
  parts.push(...track(inset, width - inset, mid), ...mark(measured, x, mid));
  const ends = { size: 5.5, fill: "#444444" };
  parts.push(
    label(short(axis.low), 1, height - 1, ends),
    label(short(axis.high), width - 1, height - 1, { ...ends, anchor: "end" }),
  );
  const alt = [
    `${sayValue(measured.label, measured, unit, words)}.`,
    normal === undefined ? "" : sayNormal(normal, unit, words),
  ]
    .filter((sentence) => sentence !== "")
    .join(" ");
  return { svg: drawing(width, height, alt, parts.join("")), alt };
}

export interface BarPairInput {
  readonly title: string;
  readonly unit: string;
  readonly pair: readonly [Measured, Measured];
  /** In points; default 200 by 40. */
  readonly width?: number;
  readonly height?: number;
  readonly words?: ChartWords;
}

/** Two values, such as frontal and occipital, as bars from zero on one scale with their intervals. */
export function barPair(input: BarPairInput): { svg: string; alt: string } {
  const words = input.words ?? ENGLISH_CHART_WORDS;
  const unit = spacedUnit(input.unit);
  const width = Math.max(input.width ?? 200, 120);
  const height = Math.max(input.height ?? 40, 30);
  const all = input.pair
    .flatMap((m) => [m.value, m.low ?? m.value, m.high ?? m.value])

    .filter(Number.isFinite)
    .map(clamp);
  const [least, most] = [Math.min(0, ...all), Math.max(0, ...all)];
  const place = (value: number) =>
    most > least ? (Math.min(Math.max(clamp(value), least), most) - least) / (most - least) : 0;
  const names = Math.min(Math.max(...input.pair.map((m) => textWidth(m.label, 7))) + 5, width * 0.45);
  const values = Math.max(...input.pair.map((m) => textWidth(short(m.value) + unit, 7))) + 6;
  const right = Math.max(names + 10, width - Math.min(values, width * 0.4));
  const x = (value: number) => names + place(value) * (right - names);
  const row = height / 2;
  const parts = input.pair.flatMap((m, i) => {
    const mid = row * (i + 0.5);
    const end = Number.isFinite(m.value) ? x(m.value) : x(0);
    const [from, to] = [Math.min(x(0), end), Math.max(x(0), end)];
    const size = Math.min(7, (7 * (names - 4)) / Math.max(1, textWidth(m.label, 7)));
    const room = width - right - 4;
    const valueSize = Math.min(7, (7 * room) / Math.max(1, textWidth(short(m.value) + unit, 7)));
    return [
      label(m.label, names - 4, mid + 2.5, { size, anchor: "end" }),
      element("rect", {
        x: from,
        y: mid - row * 0.28,
        width: to - from,
        height: row * 0.56,
        fill: i === 0 ? "#8f8f8f" : "#d4d4d4",
        stroke: "#222222",
        "stroke-width": 0.5,
      }),
      ...interval(m, x, mid),
      label(short(m.value) + unit, right + 3, mid + 2.5, { size: valueSize, bold: true }),
    ];
  });
  parts.push(
    element("path", {
      d: linePath([
        [x(0), 1],
        [x(0), height - 1],
      ]),
      fill: "none",
      stroke: "#222222",
      "stroke-width": 0.7,
    }),
  );
  const alt = `${words.compared.replace("{title}", () => input.title)} ${input.pair.map((m) => sayValue(m.label, m, unit, words)).join("; ")}.`;
  return { svg: drawing(width, height, alt, parts.join("")), alt };
}

function track(from: number, to: number, mid: number): string[] {
  return [
    element("path", {
      d: linePath([
        [from, mid],
        [to, mid],
      ]),
      fill: "none",
      stroke: "#9a9a9a",
      "stroke-width": 0.5,
    }),
  ];
}

function interval(m: Measured, x: (value: number) => number, mid: number): string[] {
  if (m.low === undefined || m.high === undefined || !Number.isFinite(m.value)) return [];
  const [low, high] = [x(m.low), x(m.high)];
  const d = `${linePath([
    [low, mid],
    [high, mid],
  ])}${linePath([
    [low, mid - 2],
    [low, mid + 2],
  ])}${linePath([
    [high, mid - 2],
    [high, mid + 2],
  ])}`;
  return [element("path", { d, fill: "none", stroke: "#1a1a1a", "stroke-width": 0.9 })];
}

function mark(m: Measured, x: (value: number) => number, mid: number): string[] {
  if (!Number.isFinite(m.value)) return [];
  return [
    ...interval(m, x, mid),
    element("circle", {
      cx: x(m.value),
      cy: mid,
      r: 2.4,
      fill: "#1a1a1a",
      stroke: "#ffffff",
      "stroke-width": 0.6,
    }),
  ];
}
