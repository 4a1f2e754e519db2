/**
 * Reads a flat drawing: paths, circles, boxes and words that say all about themselves in attributes, as our own diagrams do.
 * Any other drawing, such as a clinic's logo, is left to an SVG reader, which is slower.
 */

import { BODY_FACE, TYPEFACES } from "../type/fonts.js";
import { ellipseOperators, NUMBER, pathOperators } from "./flat-paths.js";
import { colorOperands, rounded } from "./operators.js";

export interface Lettering {
  readonly words: string;
  readonly x: number;
  readonly y: number;
  readonly size: number;
  readonly isBold: boolean;
  /** The share of its width that stands left of x. */
  readonly before: number;
  readonly color: string;
}

/** A shape as page operators, or words that still need the document's font. */
type Part = string | Lettering;

export interface FlatDrawing {
  readonly parts: readonly Part[];
  readonly box: readonly [x: number, y: number, width: number, height: number];
  readonly face: string;
}

type Attributes = Readonly<Record<string, string>>;

const PAINT = ["fill", "stroke", "stroke-width", "stroke-linecap", "stroke-linejoin", "stroke-dasharray"];

/** All that a part may say; whatever else stands there makes the drawing one for the engine. */
const ALLOWED: Readonly<Record<string, ReadonlySet<string>>> = {
  svg: new Set(["xmlns", "width", "height", "viewBox", "role", "aria-label", "aria-hidden", "font-family"]),
  path: new Set(["d", ...PAINT]),
  circle: new Set(["cx", "cy", "r", ...PAINT]),
  ellipse: new Set(["cx", "cy", "rx", "ry", ...PAINT]),
  rect: new Set(["x", "y", "width", "height", ...PAINT]),
  line: new Set(["x1", "y1", "x2", "y2", ...PAINT]),
  text: new Set(["x", "y", "font-size", "font-weight", "fill", "text-anchor"]),
};

const ATTRIBUTES = /\s+([\w-]+)="([^"]*)"/gy;

/** The attributes written in `text`, from the element's name to its end; undefined when any is not allowed. */
function attributesOf(name: string, text: string): Attributes | undefined {
  const found: Record<string, string> = {};
  ATTRIBUTES.lastIndex = 0;
  let end = 0;
  for (let match = ATTRIBUTES.exec(text); match; match = ATTRIBUTES.exec(text)) {
    const [, key = "", value = ""] = match;
    if (!ALLOWED[name]?.has(key)) return undefined;
    found[key] = value;
    end = ATTRIBUTES.lastIndex;
  }
  return text.slice(end).trim() === "" ? found : undefined;
}

/** NaN for what is missing or not a plain number; NaN in any operand makes the part unusable. */
function numberOf(attributes: Attributes, name: string, otherwise = Number.NaN): number {
  const value = attributes[name];
  if (value === undefined) return otherwise;
  return NUMBER.test(value) ? Number(value) : Number.NaN;
}

function outlineOf(name: string, attributes: Attributes): string | undefined {
  const read = (key: string, otherwise?: number) => numberOf(attributes, key, otherwise);
  if (name === "path") return pathOperators(attributes.d ?? "");
  if (name === "circle") return ellipseOperators(read("cx", 0), read("cy", 0), read("r"), read("r"));
  if (name === "ellipse") return ellipseOperators(read("cx", 0), read("cy", 0), read("rx"), read("ry"));
  if (name === "line") {
    const [x1, y1, x2, y2] = ["x1", "y1", "x2", "y2"].map((key) => rounded(read(key, 0)));
    return `${x1} ${y1} m ${x2} ${y2} l\n`;
  }
  return `${[read("x", 0), read("y", 0), read("width"), read("height")].map(rounded).join(" ")} re\n`;
}

const CAPS: Readonly<Record<string, number>> = { butt: 0, round: 1, square: 2 };
const JOINS: Readonly<Record<string, number>> = { miter: 0, round: 1, bevel: 2 };

/** Pen and ink for `attributes`, then the painting operator. */
function paintOf(attributes: Attributes): { set: string; operator: string } | undefined {
  const { fill = "black", stroke = "none" } = attributes;
  let set = "";
  if (fill !== "none") {
    const color = colorOperands(fill);
    if (color === undefined) return undefined;
    set += `${color} rg\n`;
  }
  if (stroke === "none") return fill === "none" ? undefined : { set, operator: "f" };
  const color = colorOperands(stroke);
  const cap = CAPS[attributes["stroke-linecap"] ?? "butt"];
  const join = JOINS[attributes["stroke-linejoin"] ?? "miter"];
  const dashes = (attributes["stroke-dasharray"] ?? "").split(/[\s,]+/).filter(Boolean);
  if (color === undefined || cap === undefined || join === undefined) return undefined;
  if (dashes.length % 2 !== 0 || !dashes.every((dash) => NUMBER.test(dash))) return undefined;
  const width = rounded(numberOf(attributes, "stroke-width", 1));
  set += `${color} RG\n${width} w ${cap} J ${join} j [${dashes.join(" ")}] 0 d\n`;
  return { set, operator: fill === "none" ? "S" : "B" };
}

const ENTITIES: Readonly<Record<string, string>> = {
  "&amp;": "&",
  "&lt;": "<",
  "&gt;": ">",
  "&quot;": '"',
  "&apos;": "'",
};
const ANCHORS: Readonly<Record<string, number>> = { start: 0, middle: 0.5, end: 1 };
const WEIGHTS: Readonly<Record<string, boolean>> = { normal: false, bold: true };

function letteringOf(attributes: Attributes, body: string): Lettering | undefined {
  const words = body
    .replace(/&\w+;/g, (entity) => ENTITIES[entity] ?? entity)
    .replace(/\s+/g, " ")
    .trim();
  const color = colorOperands(attributes.fill ?? "black");
  const before = ANCHORS[attributes["text-anchor"] ?? "start"];
  const isBold = WEIGHTS[attributes["font-weight"] ?? "normal"];
  const [x, y, size] = [
    numberOf(attributes, "x", 0),
    numberOf(attributes, "y", 0),
    numberOf(attributes, "font-size"),
  ];
  if (/&[#\w]+;/.test(body.replace(/&(amp|lt|gt|quot|apos);/g, ""))) return undefined;
  if (color === undefined || before === undefined || isBold === undefined) return undefined;
  return Number.isFinite(x + y + size) ? { words, x, y, size, isBold, before, color } : undefined;
}

function readPart(name: string, written: string, body: string | undefined): Part | undefined {
  const attributes = attributesOf(name, written);
  if (!attributes) return undefined;
  if (name === "text") return letteringOf(attributes, body ?? "");
  if (body !== undefined) return undefined;
  const outline = outlineOf(name, attributes);
  const paint = paintOf(attributes);
  if (outline === undefined || paint === undefined) return undefined;
  const operators = `${paint.set}${outline}${paint.operator}`;
  return operators.includes("NaN") ? undefined : operators;
}

/** Outlines and hairs are the same in every map, so parts are remembered by how they are written. */
const PARTS_KEPT = 4000;
const parts = new Map<string, Part>();

const PART = /\s*<(path|circle|ellipse|rect|line|text)\b([^<>]*?)(?:\/>|>([^<]*)<\/\1>)/y;

/** True for a drawing that `readFlat` can read. */
export function isFlat(source: string): boolean {
  return readFlat(source) !== undefined;
}

/** Pictograms come again on many letters, and each drawing in every pass over the pages. */
const DRAWINGS_KEPT = 64;
const drawings = new Map<string, FlatDrawing | undefined>();

/** The drawing's parts; undefined when it is not flat. */
export function readFlat(source: string): FlatDrawing | undefined {
  if (drawings.has(source)) return drawings.get(source);
  const drawing = readParts(source);
  if (drawings.size >= DRAWINGS_KEPT) drawings.clear();
  drawings.set(source, drawing);
  return drawing;
}

function readParts(source: string): FlatDrawing | undefined {
  const root = /^<svg\b([^<>]*)>/.exec(source);
  const attributes = root && attributesOf("svg", root[1] ?? "");
  if (!root || !attributes) return undefined;
  const box = (attributes.viewBox ?? "").split(" ").map(Number);
  const [x = 0, y = 0, width = 0, height = 0] = box;
  const face = attributes["font-family"] ?? BODY_FACE;
  if (box.length !== 4 || !(width > 0 && height > 0) || !TYPEFACES[face]) return undefined;
  const found: Part[] = [];
  let at = root[0].length;
  for (;;) {
    PART.lastIndex = at;
    const match = PART.exec(source);
    if (!match) break;
    const [whole, name = "", written = "", body] = match;
    let part = parts.get(whole);
    if (part === undefined) {
      part = readPart(name, written, body && structuredClone(body));
      if (part === undefined) return undefined;
      if (parts.size >= PARTS_KEPT) parts.clear();
      // A copy: a piece of the drawing's text would keep all of it in memory.
      parts.set(structuredClone(whole), part);
    }
    found.push(part);
    at += whole.length;
  }
  return source.slice(at).trim() === "</svg>"
    ? { parts: found, box: [x, y, width, height], face }
    : undefined;
}
