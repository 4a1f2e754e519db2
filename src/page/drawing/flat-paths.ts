/** Path data and ellipses -> operators of a page, for what our own drawings use of SVG. */
import { rounded } from "./operators.js";

/** A plain decimal number. */
export const NUMBER = /^-?(?:\d+\.?\d*|\.\d+)$/;

/** How many numbers each command takes at a time; the ones our diagrams use. */
const TAKES: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  Q: 4,
  a: 7,
  l: 2,
  h: 1,
  v: 1,
  Z: 0,
};

/** Length of a Bézier handle that makes a quarter of a circle of radius 1. */
const HANDLE = (4 * (Math.SQRT2 - 1)) / 3;

/** A level half circle from (x, y), as dots are written; undefined for any other arc. */
function halfCircle(x: number, y: number, arc: readonly number[]): string | undefined {
  const [rx = 0, ry = 0, , , sweep, dx = 0, dy] = arc;
  const radius = Math.abs(dx) / 2;
  if (dy !== 0 || Math.abs(rx - radius) > 0.01 || Math.abs(ry - radius) > 0.01) return undefined;
  const side = (dx > 0 === (sweep === 1) ? -1 : 1) * radius;
  const handle = (dx / 2) * HANDLE;
  const middle = x + dx / 2;
  const first = [x, y + side * HANDLE, middle - handle, y + side, middle, y + side];
  const second = [middle + handle, y + side, x + dx, y + side * HANDLE, x + dx, y];
  return `${first.map(rounded).join(" ")} c\n${second.map(rounded).join(" ")} c`;
}

/** Undefined for any command that is not of `TAKES`, any other number, or no command at all. */
export function pathOperators(data: string): string | undefined {
  const out: string[] = [];
  let [x, y] = [0, 0];
  for (const [, command = "", rest = ""] of data.matchAll(/([A-Za-z])([^A-Za-z]*)/g)) {
    const words = rest.trim() === "" ? [] : rest.trim().split(/[\s,]+/);
    const takes = TAKES[command];
    if (takes === undefined || !words.every((word) => NUMBER.test(word))) return undefined;
    if (takes === 0 ? words.length > 0 : words.length === 0 || words.length % takes !== 0) return undefined;
    // A second pair after M would be a line.
    if (command === "M" && words.length > 2) return undefined;
    if (command === "Z") out.push("h");
    for (let i = 0; i < words.length; i += takes) {
      const numbers = words.slice(i, i + takes).map(Number);
      const [first = 0, second = 0] = numbers;
      if (command === "C") {
        [x, y] = [numbers[4] ?? 0, numbers[5] ?? 0];
        out.push(`${numbers.map(rounded).join(" ")} c`);
        continue;
      }
      if (command === "Q") {
        const [, , endX = 0, endY = 0] = numbers;
        const handles = [x + ((first - x) * 2) / 3, y + ((second - y) * 2) / 3];
        handles.push(endX + ((first - endX) * 2) / 3, endY + ((second - endY) * 2) / 3);
        out.push(`${[...handles, endX, endY].map(rounded).join(" ")} c`);
        [x, y] = [endX, endY];
        continue;
      }
      if (command === "a") {
        const arc = halfCircle(x, y, numbers);
        if (arc === undefined) return undefined;
        out.push(arc);
        x += numbers[5] ?? 0;
        continue;
      }
      if (command === "H" || command === "h") x = command === "h" ? x + first : first;
      else if (command === "V" || command === "v") y = command === "v" ? y + first : first;
      else [x, y] = command === "l" ? [x + first, y + second] : [first, second];
      out.push(`${rounded(x)} ${rounded(y)} ${command === "M" ? "m" : "l"}`);
    }
  }
  return out.length > 0 ? `${out.join("\n")}\n` : undefined;
}

/** Four curves; lengths in any unit. */
export function ellipseOperators(cx: number, cy: number, rx: number, ry: number): string {
  const dx = rx * HANDLE;
  const dy = ry * HANDLE;
  const points = [
    [cx + rx, cy + dy, cx + dx, cy + ry, cx, cy + ry],
    [cx - dx, cy + ry, cx - rx, cy + dy, cx - rx, cy],
    [cx - rx, cy - dy, cx - dx, cy - ry, cx, cy - ry],
    [cx + dx, cy - ry, cx + rx, cy - dy, cx + rx, cy],
  ];
  const curves = points.map((numbers) => `${numbers.map(rounded).join(" ")} c\n`).join("");
  return `${rounded(cx + rx)} ${rounded(cy)} m\n${curves}h\n`;
}
