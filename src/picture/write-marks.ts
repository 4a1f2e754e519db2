/** Marks -> the text of their file: one mark on a line, so that a change of one mark is a change of one line. */
import type { Area, Marks, Point, Scale } from "./marks.js";
import { HAIRS } from "./marks.js";
import type { FindingWords } from "./marks-schema.js";

const figure = (value: number): string => String(Number(value.toFixed(2)));
const point = ([x, y]: Point): string => `[${figure(x)}, ${figure(y)}]`;
/** In quotes, which every text may have. */
const quoted = (text: string): string => JSON.stringify(text);

export function writeMarks(marks: Marks, words: FindingWords): string {
  const { photo } = marks;
  const term = (id: string) => quoted(words.term(id));
  const block = (key: string, lines: readonly string[]) =>
    lines.length > 0 ? [`${key}:`, ...lines.map((line) => `  - ${line}`)] : [];
  const counted = marks.counted.map((what) => (what === HAIRS ? HAIRS : term(what)));
  return [
    "format: 1",
    "photo:",
    `  file: ${quoted(photo.file)}`,
    `  sha256: "${photo.sha256}"`,
    `  width_px: ${photo.widthPx}`,
    `  height_px: ${photo.heightPx}`,
    ...(marks.by === undefined ? [] : [`by: ${quoted(marks.by)}`]),
    ...(marks.blurPx === undefined ? [] : [`blur_px: ${figure(marks.blurPx)}`]),
    ...(marks.scale ? scaleLines(marks.scale) : []),
    ...(marks.area ? areaLines(marks.area) : []),
    ...(counted.length > 0 ? [`counted: [${counted.join(", ")}]`] : []),
    ...block(
      "hairs",
      marks.hairs.map(
        ({ at, class: kind, unit }) =>
          `{ at: ${point(at)}${kind ? `, class: ${kind}` : ""}${unit === undefined ? "" : `, unit: ${unit}`} }`,
      ),
    ),
    ...block(
      "dots",
      marks.dots.map(({ at, finding }) => `{ at: ${point(at)}, finding: ${term(finding)} }`),
    ),
    ...block(
      "widths",
      marks.widths.map(({ from, to }) => `{ from: ${point(from)}, to: ${point(to)} }`),
    ),
    ...block(
      "arrows",
      marks.arrows.map(({ at, finding }) => `{ at: ${point(at)}, finding: ${term(finding)} }`),
    ),
    ...block(
      "patches",
      marks.patches.map(({ outline }) => `{ outline: [${outline.map(point).join(", ")}] }`),
    ),
    "",
  ].join("\n");
}

function scaleLines(scale: Scale): string[] {
  if (scale.kind === "field") {
    const { centre, diameterPx, diameterMm } = scale.field;
    const of = `centre: ${point(centre)}, diameter_px: ${figure(diameterPx)}, diameter_mm: ${diameterMm}`;
    return ["scale:", `  field: { ${of} }`];
  }
  const lines = scale.lines.map(
    ({ from, to, lengthMm }) => `    - { from: ${point(from)}, to: ${point(to)}, length_mm: ${lengthMm} }`,
  );
  return ["scale:", "  lines:", ...lines];
}

function areaLines(area: Area): string[] {
  if (area.kind === "circle")
    return ["area:", `  circle: { centre: ${point(area.centre)}, radius_px: ${figure(area.radiusPx)} }`];
  if (area.kind === "rectangle")
    return ["area:", `  rectangle: { from: ${point(area.from)}, to: ${point(area.to)} }`];
  return ["area:", `  polygon: [${area.corners.map(point).join(", ")}]`];
}
