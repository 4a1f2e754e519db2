/** Shares with their intervals, one row each, on one scale from none to all; readable without colour. */
import { drawing, element, linePath } from "../svg.js";
import { label, textWidth } from "../text.js";

export interface ShareMark {
  readonly share: number;
  readonly low: number;
  readonly high: number;
  /** Beside the row, such as `8 of 10`. */
  readonly says: string;
}

export interface SharesInput {
  readonly title: string;
  /** The two things compared: a full dot and a hollow square. */
  readonly names: readonly [string, string];
  readonly rows: readonly { readonly label: string; readonly marks: readonly [ShareMark, ShareMark] }[];
  /** In points; default 470. */
  readonly width?: number;
}

const SIZE = 7.5;
const ROW = 26;
const TOP = 24;

/** Two marks a row, one above the other, each with its interval and its numbers. */
export function sharesChart({ title, names, rows, width = 470 }: SharesInput): { svg: string; alt: string } {
  const left = Math.min(width * 0.35, Math.max(...rows.map((r) => textWidth(r.label, SIZE)), 0) + 10);
  const says = Math.max(...rows.flatMap((r) => r.marks.map((m) => textWidth(m.says, SIZE))), 0) + 8;
  const right = width - says;
  const height = TOP + rows.length * ROW + 14;
  const bottom = TOP + rows.length * ROW;
  const x = (share: number) => left + share * (right - left);
  const line = (
    from: readonly [number, number],
    to: readonly [number, number],
    width: number,
    stroke: string,
  ) => element("path", { d: linePath([from, to]), fill: "none", stroke, "stroke-width": width });
  const parts = [
    ...key(names, left),
    ...[0, 0.25, 0.5, 0.75, 1].flatMap((tick) => [
      line([x(tick), TOP - 4], [x(tick), bottom], 0.4, "#cfcfcf"),
      label(`${tick * 100} %`, x(tick), height - 3, { size: SIZE - 1, anchor: "middle", fill: "#444444" }),
    ]),
  ];
  rows.forEach((row, i) => {
    const middle = TOP + i * ROW + ROW / 2 - 2;
    parts.push(label(row.label, left - 8, middle + 2.5, { size: SIZE, anchor: "end" }));
    row.marks.forEach(({ share, low, high, says: told }, m) => {
      const y = middle + (m === 0 ? -5 : 6);
      parts.push(
        line([x(low), y], [x(high), y], 0.9, "#1a1a1a"),
        line([x(low), y - 2], [x(low), y + 2], 0.9, "#1a1a1a"),
        line([x(high), y - 2], [x(high), y + 2], 0.9, "#1a1a1a"),
        mark(m, x(share), y),
        label(told, right + 6, y + 2.5, { size: SIZE - 0.5 }),
      );
    });
  });
  const told = rows.map(
    (row) => `${row.label}: ${names[0]} ${row.marks[0].says}, ${names[1]} ${row.marks[1].says}`,
  );
  const alt = `${title}. ${told.join("; ")}.`;
  return { svg: drawing(width, height, alt, parts.join("")), alt };
}

function mark(which: number, x: number, y: number): string {
  const look = { stroke: "#1a1a1a", "stroke-width": 0.9 };
  return which === 0
    ? element("circle", { cx: x, cy: y, r: 2.6, fill: "#1a1a1a", ...look })
    : element("rect", { x: x - 2.4, y: y - 2.4, width: 4.8, height: 4.8, fill: "#ffffff", ...look });
}

function key([first, second]: SharesInput["names"], left: number): string[] {
  const next = left + textWidth(first, SIZE) + 30;
  return [
    mark(0, left + 3, 6),
    label(first, left + 10, 8.5, { size: SIZE }),
    mark(1, next + 3, 6),
    label(second, next + 10, 8.5, { size: SIZE }),
  ];
}
