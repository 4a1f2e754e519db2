/** Changes of a photo's marks as a hand makes them. Each gives new marks, so that undo is the marks before. */
import type { SuggestedHair } from "../../../picture/eye/suggest.js";
import { distance, fromLine } from "../../../picture/geometry.js";
import type { Area, HairClass, MarkedPhoto, Marks, Point } from "../../../picture/marks.js";
import { HAIRS } from "../../../picture/marks.js";
import { scaleOf } from "../../../picture/scale.js";

export const emptyMarks = (photo: Omit<MarkedPhoto, "file">): Marks => ({
  photo: { file: "", ...photo },
  counted: [],
  hairs: [],
  dots: [],
  widths: [],
  arrows: [],
  patches: [],
});

const tenth = (value: number) => Math.round(value * 10) / 10;
/** A place in the picture, to a tenth of a pixel, never beyond its edge. */
export const placed = ({ photo }: Marks, [x, y]: Point): Point => [
  tenth(Math.min(photo.widthPx, Math.max(0, x))),
  tenth(Math.min(photo.heightPx, Math.max(0, y))),
];

const nextUnit = (marks: Marks) => Math.max(0, ...marks.hairs.map(({ unit = 0 }) => unit)) + 1;

/** A hair; with `together`, of the unit of the hair marked last. */
export function addHair(marks: Marks, at: Point, kind: HairClass, together: boolean): Marks {
  const last = marks.hairs.at(-1)?.unit;
  const unit = together && last !== undefined ? last : nextUnit(marks);
  return { ...marks, hairs: [...marks.hairs, { at: placed(marks, at), class: kind, unit }] };
}

export const addDot = (marks: Marks, at: Point, finding: string): Marks => ({
  ...marks,
  dots: [...marks.dots, { at: placed(marks, at), finding }],
});

export const addArrow = (marks: Marks, at: Point, finding: string): Marks => ({
  ...marks,
  arrows: [...marks.arrows, { at: placed(marks, at), finding }],
});

export const addWidth = (marks: Marks, from: Point, to: Point): Marks => ({
  ...marks,
  widths: [...marks.widths, { from: placed(marks, from), to: placed(marks, to) }],
});

export function addScaleLine(marks: Marks, from: Point, to: Point, lengthMm: number): Marks {
  const lines = marks.scale?.kind === "lines" ? marks.scale.lines : [];
  const line = { from: placed(marks, from), to: placed(marks, to), lengthMm };
  return { ...marks, scale: { kind: "lines", lines: [...lines, line] } };
}

/** The round field from two ends of its diameter: the scale, and the area counted, as far as the picture shows it. */
export function setField(marks: Marks, from: Point, to: Point, diameterMm: number): Marks {
  const centre: Point = [tenth((from[0] + to[0]) / 2), tenth((from[1] + to[1]) / 2)];
  const diameterPx = tenth(distance(from, to));
  const { widthPx, heightPx } = marks.photo;
  const radiusPx = Math.min(diameterPx / 2, centre[0], centre[1], widthPx - centre[0], heightPx - centre[1]);
  return {
    ...marks,
    scale: { kind: "field", field: { centre, diameterPx, diameterMm } },
    area: { kind: "circle", centre, radiusPx: Math.floor(radiusPx * 10) / 10 },
  };
}

/** Without one, the whole picture counts. */
export function setArea(marks: Marks, area: Area | null): Marks {
  const { area: _, ...rest } = marks;
  return area ? { ...rest, area } : rest;
}

export function setCounted(marks: Marks, what: string, counted: boolean): Marks {
  const others = marks.counted.filter((other) => other !== what);
  return { ...marks, counted: counted ? [...others, what] : others };
}

interface Nearest {
  readonly list: "hairs" | "dots" | "widths" | "arrows" | "patches";
  readonly index: number;
}

/** The mark nearest to a place; undefined where none lies within reach. */
export function nearest(marks: Marks, at: Point, reach: number): Nearest | undefined {
  let best: Nearest | undefined;
  let least = reach;
  const look = (list: Nearest["list"], index: number, far: number) => {
    if (far >= least) return;
    least = far;
    best = { list, index };
  };
  for (const [i, mark] of marks.hairs.entries()) look("hairs", i, distance(mark.at, at));
  for (const [i, mark] of marks.dots.entries()) look("dots", i, distance(mark.at, at));
  for (const [i, mark] of marks.arrows.entries()) look("arrows", i, distance(mark.at, at));
  for (const [i, mark] of marks.widths.entries()) look("widths", i, fromLine(mark.from, mark.to, at));
  for (const [i, { outline }] of marks.patches.entries())
    for (const [j, from] of outline.entries())
      look("patches", i, fromLine(from, outline[(j + 1) % outline.length] ?? from, at));
  return best;
}

/** Takes off the mark nearest to a place; the same marks where none lies within reach. */
export function removeNearest(marks: Marks, at: Point, reach: number): Marks {
  const near = nearest(marks, at, reach);
  if (!near) return marks;
  const { list, index } = near;
  return { ...marks, [list]: (marks[list] as readonly unknown[]).filter((_, i) => i !== index) };
}

/** Moves the mark nearest to `from` as far as from there to `to`, whole; the same marks where none lies within reach. */
export function moveNearest(marks: Marks, from: Point, to: Point, reach: number): Marks {
  const near = nearest(marks, from, reach);
  if (!near) return marks;
  const shifted = ([x, y]: Point): Point => placed(marks, [x + to[0] - from[0], y + to[1] - from[1]]);
  const at = <M extends { readonly at: Point }>(list: readonly M[]): M[] =>
    list.map((mark, i) => (i === near.index ? { ...mark, at: shifted(mark.at) } : mark));
  switch (near.list) {
    case "hairs":
      return { ...marks, hairs: at(marks.hairs) };
    case "dots":
      return { ...marks, dots: at(marks.dots) };
    case "arrows":
      return { ...marks, arrows: at(marks.arrows) };
    case "widths":
      return {
        ...marks,
        widths: marks.widths.map((line, i) =>
          i === near.index ? { ...line, from: shifted(line.from), to: shifted(line.to) } : line,
        ),
      };
    case "patches":
      return {
        ...marks,
        patches: marks.patches.map((patch, i) =>
          i === near.index ? { ...patch, outline: patch.outline.map(shifted) } : patch,
        ),
      };
  }
}

/** Thinner than this a hair is thin, in micrometres, as in the visit's counts. */
const THIN_UM = 30;

/** Suggestions that a person accepts become marks like any other; the class follows the width where there is a scale. */
export function accept(marks: Marks, hairs: readonly SuggestedHair[]): Marks {
  const first = nextUnit(marks);
  const units = new Map<number, number>();
  const scale = scaleOf(marks);
  return {
    ...marks,
    hairs: [
      ...marks.hairs,
      ...hairs.map(({ at, unit, widthPx }) => {
        if (!units.has(unit)) units.set(unit, first + units.size);
        const um = scale && widthPx !== undefined ? 1000 * scale.mmPerPx * widthPx : undefined;
        const kind: HairClass = um !== undefined && um < THIN_UM ? "thin" : "terminal";
        return { at: placed(marks, at), class: kind, unit: units.get(unit) ?? first };
      }),
    ],
  };
}

/** The suggestion as if the hair left the skin at its other end, in a unit of its own. */
export const turned = (hair: SuggestedHair): SuggestedHair => ({
  ...hair,
  at: hair.tip,
  tip: hair.at,
  unit: -hair.unit,
});

/** Suggestions that no mark stands on yet, at either end. */
export function open(marks: Marks, hairs: readonly SuggestedHair[], reach: number): SuggestedHair[] {
  return hairs.filter(
    (hair) => !marks.hairs.some(({ at }) => distance(at, hair.at) < reach || distance(at, hair.tip) < reach),
  );
}

export const isCounted = (marks: Marks, what: string = HAIRS): boolean => marks.counted.includes(what);
