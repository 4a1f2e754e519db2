/** Finds drawings in a letter's HTML that are so plain that a look at each part tells all that the full reader would: nothing in them can be wrong. */

export interface PlainDrawing {
  /** Where `<svg` begins. */
  readonly start: number;
  /** What lies between the opening and the closing tag. */
  readonly from: number;
  readonly to: number;
}

const VALUE = '"[^"<>&(]*"';
const LOOKS =
  "(?: (?:d|fill|stroke|stroke-(?:width|linecap|linejoin|dasharray)|c[xy]|r[xy]?|x|y|width|height|font-(?:size|weight)|text-anchor)=" +
  `${VALUE})*`;
/** Alone up to its end, so that the reader meets the same tag; its attributes are for the reader to judge. */
const OPENING = /<svg(?: [a-zA-Z][a-zA-Z:-]*="[^"<>]*")*>/y;
/** One shape, or one line of type. No attribute here can run, load or point anywhere, and no value holds a bracket. */
const PART = new RegExp(
  `<(?:(?:path|circle|ellipse|rect)${LOOKS}/>|text${LOOKS}>(?:[^<>&]|&(?:amp|lt|gt|quot);)*</text>)`,
  "y",
);
const CLOSING = "</svg>";

/** The plain drawings of `html`, in order; one that is not plain is left to the full reader. */
export function plainDrawings(html: string): PlainDrawing[] {
  const found: PlainDrawing[] = [];
  for (let start = html.indexOf("<svg"); start >= 0; start = html.indexOf("<svg", start + 4)) {
    const from = endOf(OPENING, html, start);
    if (from < 0) continue;
    let to = from;
    for (let next = endOf(PART, html, to); next >= 0; next = endOf(PART, html, to)) to = next;
    if (to > from && html.startsWith(CLOSING, to)) found.push({ start, from, to });
  }
  return found;
}

/** `html` without what lies inside the plain drawings. */
export function withoutInsides(html: string, drawings: readonly PlainDrawing[]): string {
  const starts = [0, ...drawings.map(({ to }) => to)];
  return starts.map((start, i) => html.slice(start, drawings[i]?.from)).join("");
}

/** Where an index into `withoutInsides` lies in the HTML. */
export function placeInWhole(index: number, drawings: readonly PlainDrawing[]): number {
  return drawings.reduce((at, { from, to }) => (at < from ? at : at + to - from), index);
}

function endOf(pattern: RegExp, html: string, at: number): number {
  pattern.lastIndex = at;
  return pattern.test(html) ? pattern.lastIndex : -1;
}
