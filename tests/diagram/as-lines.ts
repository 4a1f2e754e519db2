/** A drawing as short lines, so that a kept text can hold all of it and its diff still be read. */
import { createHash } from "node:crypto";
import { readSvg } from "./read-svg.js";

/** What an element is told by, in this order; whatever else it carries follows as key=value. */
const FIRST = ["x", "y", "cx", "cy", "r", "rx", "ry", "width", "height", "d"];
const LEFT_OUT = new Set(["xmlns", "viewBox", "role", "aria-label", "stroke-linecap", "stroke-linejoin"]);
/** Longer path data says nothing to a reader: lines with it are gathered under one fingerprint. */
const READABLE = 48;

export const fingerprint = (text: string): string =>
  createHash("sha256").update(text).digest("hex").slice(0, 10);

export function asLines(svg: string): string {
  const lines: string[] = [];
  let gathered: string[] = [];
  const settle = () => {
    if (gathered.length > 0) lines.push(`${gathered.length} paths ~${fingerprint(gathered.join())}`);
    gathered = [];
  };
  for (const { name, attributes, text } of readSvg(svg)) {
    const first = FIRST.flatMap((key) => attributes[key] ?? []);
    const more = Object.entries(attributes).flatMap(([key, value]) =>
      FIRST.includes(key) || LEFT_OUT.has(key) ? [] : `${key}=${value}`,
    );
    const line = [name, ...first, ...more, ...(text ? [`"${text}"`] : [])].join(" ");
    if ((attributes.d ?? "").length > READABLE) gathered.push(line);
    else {
      settle();
      lines.push(line);
    }
  }
  settle();
  return lines.join("\n");
}
