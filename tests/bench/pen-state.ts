/** What is in force while something is drawn on a page: transformations, colours, widths. */

export type Matrix = readonly [number, number, number, number, number, number];
export type Args = readonly unknown[];

/** What is in force; a setting that is absent does not matter to what is drawn. */
export interface State {
  readonly matrix: Matrix;
  readonly settings: Readonly<Record<string, Args>>;
}

const BLACK = [0, 0, 0];

/** How every page begins. */
export const FRESH: Readonly<Record<string, Args>> = {
  fillColor: [BLACK],
  strokeColor: [BLACK],
  fillOpacity: [1],
  strokeOpacity: [1],
  lineWidth: [1],
  lineCap: ["butt"],
  lineJoin: ["miter"],
  miterLimit: [10],
  dash: [[], { phase: 0 }],
};
const { miterLimit: _unasked, ...unsaid } = FRESH;
/** The same for rules and boxes, which have no corners that a limit could cut. */
export const UNSAID: State["settings"] = unsaid;

export const FILLING = ["fillColor", "fillOpacity"];
export const STROKING = [
  "strokeColor",
  "strokeOpacity",
  "lineWidth",
  "lineCap",
  "lineJoin",
  "miterLimit",
  "dash",
];

export function times(m: Matrix, n: Matrix): Matrix {
  return [
    m[0] * n[0] + m[2] * n[1],
    m[1] * n[0] + m[3] * n[1],
    m[0] * n[2] + m[2] * n[3],
    m[1] * n[2] + m[3] * n[3],
    m[0] * n[4] + m[2] * n[5] + m[4],
    m[1] * n[4] + m[3] * n[5] + m[5],
  ];
}

/** Colours as three numbers from 0 to 255. */
export function plainColor(color: unknown): unknown {
  if (typeof color !== "string") return color;
  const hex = /^#([\da-f]{6})$/i.exec(color)?.[1];
  if (color === "black") return BLACK;
  if (hex === undefined) throw new Error(`the floor cannot draw the colour ${color}`);
  return [0, 2, 4].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
}
