/** Reads a drawing strictly: well-formed, only the elements and attributes the PDF engine draws, and where its ink lies. */

import { textWidth } from "../../src/diagram/text.js";

export interface Drawn {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  /** Text of a text element. */
  text: string;
}

const ELEMENTS = new Set(["svg", "path", "circle", "ellipse", "rect", "text"]);
const ATTRIBUTES = new Set(
  (
    "xmlns width height viewBox role aria-label aria-hidden d cx cy r rx ry x y fill stroke stroke-width " +
    "stroke-dasharray stroke-linecap stroke-linejoin font-size font-weight text-anchor"
  ).split(" "),
);

const plainText = (text: string): string =>
  text.replace(
    /&(amp|lt|gt|quot);/g,
    (_, name: string) => ({ amp: "&", lt: "<", gt: ">", quot: '"' })[name] ?? "",
  );

/** Every element in order; throws on anything that is not well-formed or not allowed. */
export function readSvg(svg: string): Drawn[] {
  const found: Drawn[] = [];
  const open: Drawn[] = [];
  let at = 0;
  const tag = /<(\/?)([a-z]+)((?: [a-zA-Z-]+="[^"<]*")*)(\/?)>|([^<]+)/gy;
  while (at < svg.length) {
    tag.lastIndex = at;
    const match = tag.exec(svg);
    if (match === null) throw new Error(`not well-formed at ${at}: ${svg.slice(at, at + 60)}`);
    at = tag.lastIndex;
    const [, closing, name = "", written = "", empty, text] = match;
    if (text !== undefined) {
      if (/&(?!(amp|lt|gt|quot);)/.test(text)) throw new Error(`bare ampersand: ${text}`);
      const owner = open[open.length - 1];
      if (owner?.name !== "text") throw new Error(`stray text: ${text}`);
      owner.text += plainText(text);
      continue;
    }
    if (closing === "/") {
      if (open.pop()?.name !== name) throw new Error(`unbalanced ${name}`);
      continue;
    }
    if (!ELEMENTS.has(name)) throw new Error(`element ${name}`);
    const attributes: Record<string, string> = {};
    for (const [, key = "", value = ""] of written.matchAll(/ ([a-zA-Z-]+)="([^"]*)"/g)) {
      if (!ATTRIBUTES.has(key)) throw new Error(`attribute ${key} on ${name}`);
      if (key in attributes) throw new Error(`attribute ${key} twice`);
      if (/&(?!(amp|lt|gt|quot);)/.test(value)) throw new Error(`bare ampersand: ${value}`);
      attributes[key] = plainText(value);
    }
    const element: Drawn = { name, attributes, text: "" };
    found.push(element);
    if (empty !== "/") open.push(element);
  }
  if (open.length > 0) throw new Error("unclosed");
  if (found[0]?.name !== "svg" || found.filter(({ name }) => name === "svg").length !== 1)
    throw new Error("no one svg");
  return found;
}

/** A numeric attribute. */
export function measure(element: Drawn, key: string): number {
  const value = Number(element.attributes[key]);
  if (!Number.isFinite(value)) throw new Error(`${element.name} ${key}="${element.attributes[key]}"`);
  return value;
}

/** All points of path data (handles included): absolute M L C, relative a h v. */
export function pathPoints(d: string): [number, number][] {
  const points: [number, number][] = [];
  let [x, y] = [0, 0];
  let rest = d;
  while (rest !== "") {
    const match = /^([MLCZQahvml])((?:[ ,]?-?(?:\d+\.?\d*|\.\d+))*)/.exec(rest);
    if (match === null) throw new Error(`path: ${rest.slice(0, 40)}`);
    rest = rest.slice(match[0].length);
    const [, command, written = ""] = match;
    const numbers = [...written.matchAll(/-?(?:\d+\.?\d*|\.\d+)/g)].map(Number);
    const move = (nx: number, ny: number) => {
      [x, y] = [nx, ny];
      points.push([x, y]);
    };
    if (command === "Z") continue;
    if (command === "h") move(x + numbers[0]!, y);
    else if (command === "v") move(x, y + numbers[0]!);
    else if (command === "a") {
      for (let i = 0; i < numbers.length; i += 7) {
        // A half circle bulges by its radius to either side of its chord.
        const r = numbers[i]!;
        points.push([x + numbers[i + 5]! / 2, y - r], [x + numbers[i + 5]! / 2, y + r]);
        move(x + numbers[i + 5]!, y + numbers[i + 6]!);
      }
    } else {
      for (let i = 0; i < numbers.length; i += 2) {
        const relative = command === "m" || command === "l";
        move(numbers[i]! + (relative ? x : 0), numbers[i + 1]! + (relative ? y : 0));
      }
    }
  }
  return points;
}

/** The corners of what an element inks. */
export function corners(element: Drawn): [number, number][] {
  const n = (key: string) => measure(element, key);
  switch (element.name) {
    case "path":
      return pathPoints(element.attributes.d ?? "");
    case "circle":
      return [
        [n("cx") - n("r"), n("cy") - n("r")],
        [n("cx") + n("r"), n("cy") + n("r")],
      ];
    case "ellipse":
      return [
        [n("cx") - n("rx"), n("cy") - n("ry")],
        [n("cx") + n("rx"), n("cy") + n("ry")],
      ];
    case "rect":
      if (n("width") < 0 || n("height") < 0) throw new Error("negative rect");
      return [
        [n("x"), n("y")],
        [n("x") + n("width"), n("y") + n("height")],
      ];
    case "text": {
      // The estimate is itself tested against the typeface.
      const width = textWidth(element.text.trim(), n("font-size"));
      const shift = { middle: 0.5, end: 1 }[element.attributes["text-anchor"] ?? ""] ?? 0;
      return [
        [n("x") - width * shift, n("y") - n("font-size") * 0.75],
        [n("x") + width * (1 - shift), n("y") + n("font-size") * 0.2],
      ];
    }
    default:
      return [];
  }
}

/** Elements whose ink leaves the drawing by more than `slack`, and drawings whose size and viewBox differ. */
export function outside(elements: readonly Drawn[], slack = 0.6): string[] {
  const svg = elements[0]!;
  const [width, height] = [measure(svg, "width"), measure(svg, "height")];
  if (svg.attributes.viewBox !== `0 0 ${width} ${height}`) return [`viewBox ${svg.attributes.viewBox}`];
  return elements
    .slice(1)
    .flatMap((element) =>
      corners(element).every(
        ([x, y]) => x >= -slack && y >= -slack && x <= width + slack && y <= height + slack,
      )
        ? []
        : [`${element.name} ${JSON.stringify(element.attributes).slice(0, 160)} ${element.text}`],
    );
}

/** The numbered discs: the centre, radius and number of each, in drawing order. */
export function discs(elements: readonly Drawn[]): { x: number; y: number; r: number; number: number }[] {
  return elements.flatMap((element, i) => {
    const next = elements[i + 1];
    return element.name === "circle" && next?.name === "text" && next.attributes["font-weight"] === "bold"
      ? [
          {
            x: measure(element, "cx"),
            y: measure(element, "cy"),
            r: measure(element, "r"),
            number: Number(next.text),
          },
        ]
      : [];
  });
}
