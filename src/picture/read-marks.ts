/** The text of a marks file -> Marks, or every problem in it at its place. Never throws on any text. */
import type { z } from "zod";
import { nearestWords } from "../base/nearest.js";
import { hasError, type Outcome, type Problem } from "../base/problem.js";
import { MARKS_PROBLEMS } from "../base/problem-table.js";
import { type KeyPath, openYaml, valueAt, writePath, type YamlSource } from "../base/yaml-source.js";
import { checkMarks } from "./check-marks.js";
import type { Area, Marks, Scale } from "./marks.js";
import { type FindingWords, type MarksFile, marksSchema } from "./marks-schema.js";
import type { MarksProblemId, PhotoSeen, Said } from "./problems.js";

/** Places of a marks file, so that a later check can point at its lines. */
export interface MarksRead extends Outcome<Marks> {
  readonly source?: YamlSource;
}

const schemas = new WeakMap<FindingWords, ReturnType<typeof marksSchema>>();

function schemaOf(words: FindingWords): ReturnType<typeof marksSchema> {
  const known = schemas.get(words) ?? marksSchema(words);
  schemas.set(words, known);
  return known;
}

/** `photo` is what lies beside the file; without it nothing is said of the picture itself. */
export function readMarks(text: string, file: string, words: FindingWords, photo?: PhotoSeen): MarksRead {
  const { source, problems } = openYaml(text.replace(/^\ufeff/u, ""), file);
  if (!source) return { problems };
  const read = schemaOf(words).safeParse(source.value);
  if (!read.success)
    return {
      problems: [...problems, ...read.error.issues.flatMap((issue) => problemsOf(source, issue))],
      source,
    };
  const marks = toMarks(read.data);
  problems.push(...checkMarks(marks, photo, (id, path, said) => problemAt(source, id, path, said)));
  return hasError(problems) ? { problems, source } : { value: marks, problems, source };
}

export function problemAt(source: YamlSource, id: MarksProblemId, path: KeyPath, said: Said): Problem {
  return {
    severity: MARKS_PROBLEMS[id].severity,
    id,
    ...said,
    file: source.file,
    path: writePath(path),
    ...source.place(path),
  };
}

function problemsOf(source: YamlSource, issue: z.core.$ZodIssue): Problem[] {
  const path = issue.path.map((step) => (typeof step === "number" ? step : String(step)));
  if (issue.code === "unrecognized_keys") {
    const known = KEYS[String(path.findLast((step) => typeof step === "string") ?? "")] ?? [];
    return issue.keys.map((key) => {
      const near = nearestWords(key, known).join(" or ");
      return {
        ...problemAt(source, "marks-key", [...path, key], {
          message: `"${key}" is not a key of this place`,
          found: key,
          ...(known.length > 0 ? { expected: `one of ${known.join(", ")}` } : {}),
          ...(near === "" ? {} : { suggestion: near }),
        }),
        ...source.place(path, key),
      };
    });
  }
  const raw = valueAt(source.value, path);
  const last = path.at(-1);
  if (raw === undefined && typeof last === "string")
    return [
      problemAt(source, "marks-key", path, {
        message: `${last} is missing`,
        found: "nothing",
        expected: `${last}: ${issue.message}`,
      }),
    ];
  const found = inWords(raw);
  const listed = issue.code === "custom" && Array.isArray(issue.params?.words) ? issue.params.words : [];
  const words = (issue.code === "invalid_value" ? issue.values : listed).map(String);
  const near = typeof raw === "string" ? nearestWords(raw, words).slice(0, 3).join(" or ") : "";
  return [
    problemAt(source, listed.length > 0 ? "marks-word" : "marks-shape", path, {
      message: `${found} where ${listed.length > 0 ? issue.message : "something else"} belongs`,
      found,
      expected: issue.message,
      ...(near === "" ? {} : { suggestion: near }),
    }),
  ];
}

/** Keys by the map that holds them. */
const KEYS: Readonly<Record<string, readonly string[]>> = {
  "": [
    "format",
    "photo",
    "by",
    "blur_px",
    "scale",
    "area",
    "counted",
    "hairs",
    "dots",
    "widths",
    "arrows",
    "patches",
  ],
  photo: ["file", "sha256", "width_px", "height_px"],
  scale: ["lines", "field"],
  lines: ["from", "to", "length_mm"],
  field: ["centre", "diameter_px", "diameter_mm"],
  area: ["circle", "rectangle", "polygon"],
  circle: ["centre", "radius_px"],
  rectangle: ["from", "to"],
  hairs: ["at", "class", "unit"],
  dots: ["at", "finding"],
  widths: ["from", "to"],
  arrows: ["at", "finding"],
  patches: ["outline"],
};

function inWords(raw: unknown): string {
  if (raw === undefined || raw === null) return "nothing";
  if (Array.isArray(raw)) return "a list";
  if (typeof raw === "object") return "keys and values";
  const text = String(raw);
  return `"${text.length > 60 ? `${text.slice(0, 57)}...` : text}"`;
}

function toMarks(file: MarksFile): Marks {
  const scale = scaleIn(file.scale);
  const area = areaIn(file.area);
  return {
    photo: {
      file: file.photo.file,
      sha256: file.photo.sha256.toLowerCase(),
      widthPx: file.photo.width_px,
      heightPx: file.photo.height_px,
    },
    ...(file.by === undefined ? {} : { by: file.by }),
    ...(scale ? { scale } : {}),
    ...(area ? { area } : {}),
    ...(file.blur_px === undefined ? {} : { blurPx: file.blur_px }),
    counted: [...new Set(file.counted ?? [])],
    hairs: (file.hairs ?? []).map(({ at, class: kind, unit }) => ({
      at,
      ...(kind === undefined ? {} : { class: kind }),
      ...(unit === undefined ? {} : { unit }),
    })),
    dots: file.dots ?? [],
    widths: file.widths ?? [],
    arrows: file.arrows ?? [],
    patches: file.patches ?? [],
  };
}

function scaleIn(scale: MarksFile["scale"]): Scale | undefined {
  if (scale?.lines)
    return {
      kind: "lines",
      lines: scale.lines.map(({ from, to, length_mm }) => ({ from, to, lengthMm: length_mm })),
    };
  if (!scale?.field) return undefined;
  const { centre, diameter_px, diameter_mm } = scale.field;
  return { kind: "field", field: { centre, diameterPx: diameter_px, diameterMm: diameter_mm } };
}

function areaIn(area: MarksFile["area"]): Area | undefined {
  if (area?.circle) return { kind: "circle", centre: area.circle.centre, radiusPx: area.circle.radius_px };
  if (area?.rectangle) return { kind: "rectangle", ...area.rectangle };
  return area?.polygon ? { kind: "polygon", corners: area.polygon } : undefined;
}
