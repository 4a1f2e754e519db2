/** Writes SVG text: inline attributes only, the subset that both browsers and the PDF engine draw alike. */
import { escapeXml } from "../base/text.js";
import type { Curve, Point } from "./curve.js";

/** A number as SVG wants it: at most two decimals, never in exponent form. */
export function num(value: number): string {
  return String(Math.round(value * 100) / 100 + 0);
}

export type Attributes = Readonly<Record<string, string | number | undefined>>;

/** One element; undefined attributes are left out, `body` is already SVG. */
export function element(name: string, attributes: Attributes, body = ""): string {
  const written = Object.entries(attributes)
    .filter(([, value]) => value !== undefined)
    .map(([key, value]) => ` ${key}="${typeof value === "number" ? num(value) : escapeXml(String(value))}"`)
    .join("");
  return body === "" ? `<${name}${written}/>` : `<${name}${written}>${body}</${name}>`;
}

const pair = ([x, y]: Point): string => `${num(x)} ${num(y)}`;

/** Path data of a curve. */
export function curvePath(curve: Curve, closed = false): string {
  const first = curve[0];
  if (first === undefined) return "";
  const spans = curve.map(([, b, c, d]) => `C${pair(b)} ${pair(c)} ${pair(d)}`).join("");
  return `M${pair(first[0])}${spans}${closed ? "Z" : ""}`;
}

/** Path data of straight lines through the points. */
export function linePath(points: readonly Point[], closed = false): string {
  return points.map((p, i) => `${i === 0 ? "M" : "L"}${pair(p)}`).join("") + (closed ? "Z" : "");
}

/** A whole drawing with its size in points and its text alternative. */
export function drawing(width: number, height: number, alt: string, body: string): string {
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      width,
      height,
      viewBox: `0 0 ${num(width)} ${num(height)}`,
      role: "img",
      "aria-label": alt,
    },
    body,
  );
}
