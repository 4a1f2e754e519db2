/** A measure over several visits as a small print chart: points with their intervals, every value written beside it. */
import { drawing, element, linePath } from "../svg.js";
import { label, textWidth, wrap } from "../text.js";
import { axisFor, short } from "./axis.js";
import { type NormalRange, sayNormal, sayValue, spacedUnit } from "./normal.js";
import { type ChartWords, ENGLISH_CHART_WORDS } from "./phrases.js";

export interface TrendPoint {
  /** The date as printed. */
  readonly label: string;
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
  /** ISO date; when every point has one, points stand apart as far as the visits did. */
  readonly date?: string;
}

export interface TrendInput {
  readonly title: string;
  readonly unit: string;
  /** In order of time. */
  readonly points: readonly TrendPoint[];
  /** Values of other charts that this one shall be read beside: the axis holds them too. */
  readonly scale?: readonly number[];
  readonly normal?: NormalRange;
  readonly threshold?: { readonly value: number; readonly label: string };
  /** In points; default 230 by 120. */
  readonly width?: number;
  readonly height?: number;
  readonly words?: ChartWords;
}

const SIZE = 7;

/** Draws the chart; one point, equal values, zeros, huge values and points without an interval are all fine. */
export function trendChart(input: TrendInput): { svg: string; alt: string } {
  const { title, normal, threshold } = input;
  const words = input.words ?? ENGLISH_CHART_WORDS;
  const unit = spacedUnit(input.unit);
  const points = input.points.filter((p) => Number.isFinite(p.value));
  const decimals = Math.max(0, ...points.map((p) => (/[.,](\d+)$/u.exec(short(p.value))?.[1] ?? "").length));
  const width = Math.max(input.width ?? 230, 120);
  const height = Math.max(input.height ?? 120, 80);
  const axis = axisFor([
    ...points.flatMap((p) => [p.value, p.low ?? p.value, p.high ?? p.value]),
    ...(input.scale ?? []),
    ...(normal?.low === undefined ? [] : [normal.low]),
    ...(normal?.high === undefined ? [] : [normal.high]),
    ...(threshold === undefined ? [] : [threshold.value]),
  ]);

  const heading = wrap(input.unit === "" ? title : `${title} (${input.unit})`, SIZE + 0.5, width - 4);
  const wide = Math.max(...axis.ticks.map((tick) => textWidth(short(tick), SIZE)));
  const tickSize = SIZE * Math.min(1, (width * 0.3) / wide);
  const banded = normal !== undefined && (normal.low !== undefined || normal.high !== undefined);
  // What the grey band is stands under the dates, where no point can meet it; the topmost value has room above it.
  const foot = height - 4 - (banded ? SIZE + 3 : 0);
  const box = {
    left: (wide * tickSize) / SIZE + 6,
    right: width - 8,
    top: heading.length * (SIZE + 2.5) + 12,
    bottom: foot - SIZE - 6,
  };
  const y = (value: number) => box.bottom - axis.place(value) * (box.bottom - box.top);
  const xs = places(points).map((t) => box.left + 14 + t * (box.right - box.left - 36));

  const parts = heading.map((line, i) =>
    label(line, 2, SIZE + 1 + i * (SIZE + 2.5), { size: SIZE + 0.5, bold: true }),
  );
  if (banded) {
    const top = normal.high === undefined ? box.top : y(normal.high);
    const bottom = normal.low === undefined ? box.bottom : y(normal.low);
    const grey = { fill: "#e9e9e9" };
    parts.push(
      element("rect", {
        x: box.left,
        y: Math.min(top, bottom),
        width: box.right - box.left,
        height: Math.abs(bottom - top),
        ...grey,
      }),
      element("rect", {
        x: box.left,
        y: height - 4 - (SIZE - 2),
        width: 9,
        height: SIZE - 2,
        ...grey,
        stroke: "#8a8a8a",
        "stroke-width": 0.4,
      }),
      label(shorten(normal.label, box.right - box.left - 13), box.left + 13, height - 4, {
        size: SIZE,
        fill: "#333333",
      }),
    );
  }
  for (const tick of axis.ticks) {
    parts.push(
      element("path", {
        d: linePath([
          [box.left, y(tick)],
          [box.right, y(tick)],
        ]),
        stroke: "#cfcfcf",
        "stroke-width": 0.4,
        fill: "none",
      }),
      label(short(tick), box.left - 4, y(tick) + tickSize * 0.35, {
        size: tickSize,
        fill: "#444444",
        anchor: "end",
      }),
    );
  }
  if (threshold !== undefined) {
    // Its name stands at the end of the line that the points leave free.
    const far = (p: TrendPoint | undefined) =>
      p === undefined ? 0 : Math.abs(y(p.value) - y(threshold.value));
    const atEnd = far(points[points.length - 1]) >= far(points[0]);
    parts.push(
      element("path", {
        d: linePath([
          [box.left, y(threshold.value)],
          [box.right, y(threshold.value)],
        ]),
        fill: "none",
        stroke: "#222222",
        "stroke-width": 0.7,
        "stroke-dasharray": "3 2",
      }),
      label(
        shorten(threshold.label, box.right - box.left - 4),
        atEnd ? box.right - 2 : box.left + 2,
        Math.max(box.top + SIZE, y(threshold.value) - 2),
        {
          size: SIZE - 1,
          fill: "#333333",
          anchor: atEnd ? "end" : "start",
        },
      ),
    );
  }
  if (points.length > 1) {
    parts.push(
      element("path", {
        d: linePath(points.map((p, i) => [xs[i]!, y(p.value)])),
        fill: "none",
        stroke: "#8a8a8a",
        "stroke-width": 0.8,
      }),
    );
  }
  let lastLabelEnd = Number.NEGATIVE_INFINITY;
  points.forEach((p, i) => {
    const x = xs[i]!;
    if (p.low !== undefined && p.high !== undefined) {
      const [low, high] = [y(p.low), y(p.high)];
      parts.push(
        element("path", {
          d: `${linePath([
            [x, high],
            [x, low],
          ])}${linePath([
            [x - 2.2, high],
            [x + 2.2, high],
          ])}${linePath([
            [x - 2.2, low],
            [x + 2.2, low],
          ])}`,
          fill: "none",
          stroke: "#222222",
          "stroke-width": 0.8,
        }),
      );
    }
    parts.push(
      element("circle", {
        cx: x,
        cy: y(p.value),
        r: 2.3,
        fill: "#1a1a1a",
        stroke: "#ffffff",
        "stroke-width": 0.6,
      }),
    );
    const next = points[i + 1];
    // The line to the next point rises over a value that stands above its own point.
    const rises = next !== undefined && y(next.value) < y(p.value) - 2 && y(p.value) + SIZE + 2 < box.bottom;
    const over = { next: xs[i + 1] ?? box.right + 8, crowded: points.length > 5, below: rises, decimals };
    parts.push(valueLabel(p, x, y, over, threshold?.value));
    const date = shorten(p.label, box.right - box.left);
    const half = textWidth(date, SIZE) / 2;
    const centre = Math.min(Math.max(x, half + 1), width - half - 1);
    // Dates that would run into the one before stay unwritten; the text alternative has them all.
    if (centre - half > lastLabelEnd + 2) {
      parts.push(label(date, centre, foot, { size: SIZE, fill: "#333333", anchor: "middle" }));
      lastLabelEnd = centre + half;
    }
  });

  const said = points.map((p) => sayValue(p.label, p, unit, words));
  const alt = [
    input.points.length === 1
      ? fillTitle(words.trendOne, title, 1)
      : fillTitle(words.trend, title, points.length),
    said.length === 0 ? `${words.none}.` : `${said.join("; ")}.`,
    normal === undefined ? "" : sayNormal(normal, unit, words),
    threshold === undefined ? "" : sayThreshold(threshold, unit, words),
  ]
    .filter((sentence) => sentence !== "")
    .join(" ");
  return { svg: drawing(width, height, alt, parts.join("")), alt };
}

function fillTitle(phrase: string, title: string, count: number): string {
  return phrase.replace("{title}", () => title).replace("{count}", String(count));
}

function sayThreshold(threshold: { value: number; label: string }, unit: string, words: ChartWords): string {
  return words.threshold
    .replace("{label}", () => threshold.label)
    .replace("{value}", short(threshold.value))
    .replace("{unit}", () => unit);
}

/** Between a point's middle and its value: clear of the ends of the interval. */
const ASIDE = 5;

/** The value in figures beside its point: over the interval in a crowd, otherwise where neither line nor edge is near. */
/** `7.0` beside `6.3`: values of one chart have the same decimals. */
function evenly(value: number, decimals: number): string {
  const text = short(value);
  return decimals > 0 && /^-?\d+$/u.test(text) ? `${text}.${"0".repeat(decimals)}` : text;
}

function valueLabel(
  point: TrendPoint,
  x: number,
  y: (value: number) => number,
  {
    next,
    crowded,
    below,
    decimals,
  }: {
    readonly next: number;
    readonly crowded: boolean;
    readonly below: boolean;
    readonly decimals: number;
  },
  threshold: number | undefined,
): string {
  const text = evenly(point.value, decimals);
  const look = { size: SIZE, bold: true } as const;
  const at = y(point.value);
  if (crowded)
    return label(text, x, y(Math.max(point.high ?? point.value, point.value)) - 3.5, {
      ...look,
      anchor: "middle",
    });
  const wide = textWidth(text, SIZE);
  const right = x + ASIDE + wide <= next - 2 || x - ASIDE - wide < 1;
  const belowLine = threshold !== undefined && at - y(threshold) > 0 && at - y(threshold) < SIZE + 4;
  return label(text, right ? x + ASIDE : x - ASIDE, belowLine || below ? at + SIZE + 1 : at - 3, {
    ...look,
    anchor: right ? "start" : "end",
  });
}

/** Places of the points from 0 to 1: by date where all have one and they go forward, else evenly. */
function places(points: readonly TrendPoint[]): number[] {
  if (points.length < 2) return points.map(() => 0.5);
  const days = points.map((p) => Date.parse(p.date ?? "") / 86_400_000);
  const first = days[0]!;
  const span = days[days.length - 1]! - first;
  const forward = days.every((day, i) => Number.isFinite(day) && (i === 0 || day > days[i - 1]!));
  return points.map((_, i) => (forward ? (days[i]! - first) / span : i / (points.length - 1)));
}

/** `text` cut to the width with an ellipsis. */
function shorten(text: string, width: number): string {
  if (textWidth(text, SIZE) <= width) return text;
  const letters = [...text];
  while (letters.length > 0 && textWidth(`${letters.join("")}…`, SIZE) > width) letters.pop();
  return `${letters.join("")}…`;
}
