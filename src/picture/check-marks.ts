/** Marks that are well written and cannot be right: another picture, outside it, without scale, twice on one point. */
import type { Problem } from "../base/problem.js";
import type { KeyPath } from "../base/yaml-source.js";
import { bounds, distance } from "./geometry.js";
import type { Marks, Point } from "./marks.js";
import type { MarksProblemId, PhotoSeen, Said } from "./problems.js";
import { disagreement, scaleOf } from "./scale.js";

type At = (id: MarksProblemId, path: KeyPath, said: Said) => Problem;

/** Scale lines that differ from all of them together by more than this, as a fraction (common practice, no source). */
const MOST_APART = 0.1;
/** Width of a picture in millimetres, from a lens at its closest to a whole head (common practice, no source). */
const PICTURE_MM = { least: 0.5, most: 500 };
/** Shaft diameters in micrometres beyond which a line spans something else (common practice, no source). */
const SHAFT_UM = { least: 5, most: 250 };

export function checkMarks(marks: Marks, photo: PhotoSeen | undefined, at: At): Problem[] {
  if (photo && photo.sha256 !== marks.photo.sha256)
    return [
      at("marks-other-photo", ["photo", "sha256"], {
        message: `the marks were set on another picture than ${marks.photo.file}`,
        found: marks.photo.sha256.slice(0, 12),
        expected: `${photo.sha256.slice(0, 12)}, the hash of the photo beside the marks`,
      }),
    ];
  return [...outside(marks, at), ...twice(marks, at), ...ofScale(marks, at)];
}

function outside({ photo, ...marks }: Marks, at: At): Problem[] {
  const within = ([x, y]: Point) => x >= 0 && y >= 0 && x <= photo.widthPx && y <= photo.heightPx;
  const size = `0 to ${photo.widthPx} across and 0 to ${photo.heightPx} down`;
  const points: [KeyPath, Point][] = [
    ...marks.hairs.map((m, i): [KeyPath, Point] => [["hairs", i, "at"], m.at]),
    ...marks.dots.map((m, i): [KeyPath, Point] => [["dots", i, "at"], m.at]),
    ...marks.arrows.map((m, i): [KeyPath, Point] => [["arrows", i, "at"], m.at]),
    ...marks.widths.flatMap((m, i): [KeyPath, Point][] => [
      [["widths", i, "from"], m.from],
      [["widths", i, "to"], m.to],
    ]),
    ...marks.patches.flatMap((m, i) =>
      m.outline.map((point, j): [KeyPath, Point] => [["patches", i, "outline", j], point]),
    ),
    ...(marks.scale?.kind === "lines" ? marks.scale.lines : []).flatMap((m, i): [KeyPath, Point][] => [
      [["scale", "lines", i, "from"], m.from],
      [["scale", "lines", i, "to"], m.to],
    ]),
  ];
  const problems = points
    .filter(([, point]) => !within(point))
    .map(([path, [x, y]]) =>
      at("mark-outside", path, {
        message: `[${x}, ${y}] lies outside the picture`,
        found: `[${x}, ${y}]`,
        expected: size,
      }),
    );
  if (marks.area) {
    const { left, top, right, bottom } = bounds(marks.area);
    // Half a pixel for the rounding of a circle that fills the picture.
    const fits =
      left >= -0.5 && top >= -0.5 && right <= photo.widthPx + 0.5 && bottom <= photo.heightPx + 0.5;
    const round = (value: number) => Number(value.toFixed(1));
    if (!fits)
      problems.push(
        at("mark-outside", ["area", marks.area.kind], {
          message: "the area counted reaches beyond the picture, where nothing can be counted",
          found: `${round(left)} to ${round(right)} across and ${round(top)} to ${round(bottom)} down`,
          expected: size,
        }),
      );
  }
  return problems;
}

function twice({ hairs, dots }: Marks, at: At): Problem[] {
  const on = (kind: "hairs" | "dots", list: readonly { readonly at: Point; readonly finding?: string }[]) => {
    const first = new Map<string, number>();
    return list.flatMap(({ at: [x, y], finding = "" }, i) => {
      const key = `${x} ${y} ${finding}`;
      const before = first.get(key);
      if (before === undefined) {
        first.set(key, i);
        return [];
      }
      return [
        at("mark-twice", [kind, i, "at"], {
          message: `two marks on one point, [${x}, ${y}]`,
          found: `${kind === "hairs" ? "hair" : "dot"} ${before + 1} and ${i + 1}`,
          expected: "each once",
        }),
      ];
    });
  };
  return [...on("hairs", hairs), ...on("dots", dots)];
}

function ofScale(marks: Marks, at: At): Problem[] {
  const problems: Problem[] = [];
  const scale = scaleOf(marks);
  if (!scale) {
    if (marks.widths.length > 0 || (marks.area && marks.counted.length > 0))
      problems.push(
        at("marks-no-scale", [marks.widths.length > 0 ? "widths" : "area"], {
          message: "a width or an area without a scale has no size",
          found: "no scale",
          expected: "scale: with lines or field",
        }),
      );
    return problems;
  }
  const apart = disagreement(marks);
  if (apart > MOST_APART)
    problems.push(
      at("scale-lines-differ", ["scale", "lines"], {
        message: `one scale line differs by ${Math.round(100 * apart)} % from all of them together`,
        found: `${Math.round(100 * apart)} %`,
        expected: `at most ${100 * MOST_APART} %`,
      }),
    );
  const widthMm = marks.photo.widthPx * scale.mmPerPx;
  if (widthMm < PICTURE_MM.least || widthMm > PICTURE_MM.most)
    problems.push(
      at("scale-implausible", ["scale"], {
        message: `by its scale the picture is ${Number(widthMm.toPrecision(3))} mm wide`,
        found: `${Number(widthMm.toPrecision(3))} mm`,
        expected: `${PICTURE_MM.least} to ${PICTURE_MM.most} mm`,
      }),
    );
  for (const [i, { from, to }] of marks.widths.entries()) {
    const um = 1000 * scale.mmPerPx * distance(from, to);
    if (um >= SHAFT_UM.least && um <= SHAFT_UM.most) continue;
    problems.push(
      at("width-implausible", ["widths", i], {
        message: `a line of ${Number(um.toPrecision(3))} micrometres spans no hair`,
        found: `${Number(um.toPrecision(3))} micrometres`,
        expected: `${SHAFT_UM.least} to ${SHAFT_UM.most} micrometres`,
      }),
    );
  }
  return problems;
}
