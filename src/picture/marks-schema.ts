/** The shape of a marks file. A refusal says what belongs there, and read-marks.ts adds what was found and where. */

import { z } from "zod";
import type { FindingId } from "../base/ids.js";
import { foldWord } from "../base/nearest.js";
import { HAIR_CLASSES, HAIRS } from "./marks.js";

/** Words of the knowledge that marks use. */
export interface FindingWords {
  /** Every accepted spelling. */
  readonly spellings: readonly string[];
  find(word: string): string | undefined;
  /** As a file writes it. */
  term(id: FindingId): string;
}

/** Case, hyphens and a plural s do not matter. */
const key = (word: string) => foldWord(word).replace(/s$/u, "");

export function findingWords(
  findings: Readonly<Record<string, { readonly term: string; readonly also?: readonly string[] }>>,
): FindingWords {
  const ids = new Map<string, string>();
  const spellings: string[] = [];
  for (const [id, { term, also = [] }] of Object.entries(findings)) {
    for (const word of [term, id, ...also]) if (!ids.has(key(word))) ids.set(key(word), id);
    spellings.push(term, ...also);
  }
  return { spellings, find: (word) => ids.get(key(word)), term: (id) => findings[id]?.term ?? id };
}

/** More marks than any picture needs; a file that holds more is no work of a hand. */
const MOST_MARKS = 5000;
const MOST_PX = 20_000;

function number(least: number, most: number, unit: string, says: string) {
  const error = `a number from ${least} to ${most} (${unit})`;
  return z.number({ error }).min(least, { error }).max(most, { error }).describe(says);
}

const whole = (least: number, most: number, says: string) => {
  const error = `a whole number from ${least} to ${most}`;
  return z.int({ error }).min(least, { error }).max(most, { error }).describe(says);
};

const POINT = "a point in pixels, such as [312, 240]";
const along = z
  .number({ error: "a number of pixels" })
  .min(0, { error: `a number from 0 to ${MOST_PX} (pixels)` })
  .max(MOST_PX, { error: `a number from 0 to ${MOST_PX} (pixels)` });
const point = (says: string) => z.tuple([along, along], { error: POINT }).readonly().describe(says);

const text = (most: number, says: string) => {
  const error = `text of at most ${most} letters`;
  return z.string({ error }).max(most, { error }).describe(says);
};

const map = <S extends z.core.$ZodLooseShape>(shape: S, says: string) =>
  z.strictObject(shape, { error: "keys and values, indented below it" }).describe(says);

const list = <S extends z.ZodType>(entry: S, says: string) =>
  z
    .array(entry, { error: "a list, each item beginning with a dash" })
    .max(MOST_MARKS, { error: `at most ${MOST_MARKS} marks` })
    .describe(says);

const corners = (says: string) =>
  z
    .array(point("A corner, in pixels."), { error: "a list of at least three points" })
    .min(3, { error: "a list of at least three points" })
    .max(1000, { error: "a list of at most 1000 points" })
    .describe(says);

/** A word of the knowledge; `json` lists the spellings for editors. */
function word(words: FindingWords, also: readonly string[], what: string, says: string) {
  const find = (written: string) => also.find((other) => key(other) === key(written)) ?? words.find(written);
  return z
    .string({ error: what })
    .meta({ anyOf: [{ enum: [...also, ...words.spellings] }, { type: "string" }] })
    .describe(says)
    .transform((written, context): string => {
      const id = find(written);
      if (id === undefined)
        context.addIssue({
          code: "custom",
          message: what,
          params: { id: "unknown-word", words: [...also, ...words.spellings] },
        });
      return id ?? "";
    });
}

const exactlyOne = (keys: readonly string[]) => (value: object) =>
  Object.keys(value).filter((name) => keys.includes(name)).length === 1;

const SCALE_LINE = map(
  {
    from: point("One end."),
    to: point("The other end."),
    length_mm: number(0.001, 500, "mm", "What lies between the ends, in millimetres."),
  },
  "A line whose length is known.",
);

const FIELD = map(
  {
    centre: point("Centre of the field."),
    diameter_px: number(1, MOST_PX, "pixels", "Diameter of the field in the picture, in pixels."),
    diameter_mm: number(0.1, 100, "mm", "Diameter of the field, in millimetres."),
  },
  "The round field of view.",
);

const CIRCLE = map(
  { centre: point("Centre."), radius_px: number(1, MOST_PX, "pixels", "Radius, in pixels.") },
  "A round area.",
);

const RECTANGLE = map(
  { from: point("One corner."), to: point("The opposite corner.") },
  "An upright rectangle.",
);

export function marksSchema(words: FindingWords) {
  const finding = (says: string) => word(words, [], "a finding", says);
  return z.strictObject(
    {
      format: z
        .literal(1, { error: "1, the version of this format" })
        .optional()
        .describe("Version of this format: 1."),
      photo: map(
        {
          file: text(200, "File name of the photo, in the same folder."),
          sha256: z
            .string({ error: "the 64 hexadecimal digits of a SHA-256 hash, in quotes" })
            .regex(/^[0-9a-fA-F]{64}$/u, {
              error: "the 64 hexadecimal digits of a SHA-256 hash, in quotes",
            })
            .describe("Hash of the photo's bytes, so that the marks sit on no other picture."),
          width_px: whole(1, MOST_PX, "Width of the upright picture, in pixels."),
          height_px: whole(1, MOST_PX, "Height of the upright picture, in pixels."),
        },
        "The photo that was marked.",
      ),
      by: text(120, "Who set the marks.").optional(),
      blur_px: number(
        0,
        100,
        "pixels",
        "Standard deviation of the blur of the edges, in pixels, as measured on the picture.",
      ).optional(),
      scale: z
        .strictObject(
          {
            lines: z
              .array(SCALE_LINE, { error: "a list, each item beginning with a dash" })
              .min(1, { error: "at least one line" })
              .max(20, { error: "at most 20 lines" })
              .optional()
              .describe("Lines of known length; repeated lines tell how well the scale is known."),
            field: FIELD.optional(),
          },
          { error: "keys and values, indented below it" },
        )
        .refine(exactlyOne(["lines", "field"]), { error: "either lines or field" })
        .optional()
        .describe("How large the picture is: lines of known length, or the field's diameter."),
      area: z
        .strictObject(
          {
            circle: CIRCLE.optional(),
            rectangle: RECTANGLE.optional(),
            polygon: corners("Corners in order.").optional(),
          },
          { error: "keys and values, indented below it" },
        )
        .refine(exactlyOne(["circle", "rectangle", "polygon"]), {
          error: "one of circle, rectangle, polygon",
        })
        .optional()
        .describe("The area counted; left out, everything in the picture."),
      counted: list(
        word(words, [HAIRS], "hairs, or a finding", "hairs, or a finding that was counted."),
        "What was counted to the last within the area: hairs, or findings. Only this fills counts of the visit.",
      ).optional(),
      hairs: list(
        map(
          {
            at: point("Where the hair leaves the skin."),
            class: z
              .enum(HAIR_CLASSES, { error: HAIR_CLASSES.join(", ") })
              .optional()
              .describe("terminal; thin, under 0.03 mm; or vellus."),
            unit: whole(
              1,
              9999,
              "Number of the follicular unit; hairs of one number leave the skin together.",
            ).optional(),
          },
          "A hair.",
        ),
        "Hairs, each at the point where it leaves the skin.",
      ).optional(),
      dots: list(
        map({ at: point("Where it lies."), finding: finding("The finding.") }, "A dot."),
        "Dots, each with its finding.",
      ).optional(),
      widths: list(
        map({ from: point("One edge of the shaft."), to: point("The other edge.") }, "A width."),
        "Lines across shafts, from edge to edge: their widths are the shaft diameters.",
      ).optional(),
      arrows: list(
        map({ at: point("What is pointed at."), finding: finding("The finding.") }, "An arrow."),
        "Findings pointed at, numbered on paper in this order.",
      ).optional(),
      patches: list(
        map({ outline: corners("Corners in order.") }, "A patch."),
        "Outlines of patches.",
      ).optional(),
    },
    { error: "keys and values" },
  );
}

export type MarksFile = z.output<ReturnType<typeof marksSchema>>;

/** JSON Schema (draft 7) of a marks file. */
export function marksJsonSchema(words: FindingWords): { [key: string]: unknown } {
  const json = z.toJSONSchema(marksSchema(words), { io: "input", target: "draft-7" });
  return { title: "Marks file", ...json };
}
