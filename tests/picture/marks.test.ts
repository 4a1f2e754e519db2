/** Marks: read with places, written and read again, and every message shown. */
import { Ajv } from "ajv";
import { expect, test } from "vitest";
import { parse } from "yaml";
import { MARKS_PROBLEMS } from "../../src/base/problem-table.js";
import { sha256 } from "../../src/base/sha256.js";
import type { Marks } from "../../src/picture/marks.js";
import { isMarksFile, marksFileOf } from "../../src/picture/marks.js";
import { findingWords, marksJsonSchema } from "../../src/picture/marks-schema.js";
import { readMarks } from "../../src/picture/read-marks.js";
import { writeMarks } from "../../src/picture/write-marks.js";
import { testKnowledge } from "../visit/test-knowledge.js";

const words = findingWords(testKnowledge.findings);
const HASH = sha256(Buffer.from("a picture"));
const HEAD = `format: 1
photo: { file: left-1.jpg, sha256: "${HASH}", width_px: 700, height_px: 600 }
`;
const SCALE = "scale: { field: { centre: [350, 300], diameter_px: 600, diameter_mm: 10 } }\n";

const said = (text: string, sha256?: string) =>
  readMarks(text, "left-1.marks.yaml", words, sha256 ? { sha256 } : undefined).problems.map(
    ({ line, column, id, message, expected, suggestion }) =>
      `${line}:${column} ${id}: ${message}${expected ? ` | ${expected}` : ""}${suggestion ? ` | ${suggestion}` : ""}`,
  );

test("the file of a photo's marks stands beside it under its name", () => {
  expect(marksFileOf("photos/left-1.jpg")).toBe("photos/left-1.marks.yaml");
  expect(marksFileOf("a.b/scalp.2.PNG")).toBe("a.b/scalp.2.marks.yaml");
  expect(isMarksFile("left-1.marks.yaml")).toBe(true);
  expect(isMarksFile("marks.yaml")).toBe(false);
});

test("what a person writes by hand is read, in any accepted spelling", () => {
  const { value, problems } = readMarks(
    `${HEAD}${SCALE}area: { circle: { centre: [350, 300], radius_px: 300 } }
counted: [hairs, Black-Dots]
hairs:
  - { at: [100.5, 200], class: terminal, unit: 1 }
  - { at: [104, 203] }
dots: [{ at: [10, 20], finding: cadaverised hair }]
widths: [{ from: [1, 2], to: [4, 6] }]
arrows: [{ at: [300, 300], finding: tapering hairs }]
patches: [{ outline: [[0, 0], [10, 0], [10, 10]] }]
`,
    "left-1.marks.yaml",
    words,
    { sha256: HASH },
  );
  expect(problems).toEqual([]);
  expect(value).toEqual({
    photo: { file: "left-1.jpg", sha256: HASH, widthPx: 700, heightPx: 600 },
    scale: { kind: "field", field: { centre: [350, 300], diameterPx: 600, diameterMm: 10 } },
    area: { kind: "circle", centre: [350, 300], radiusPx: 300 },
    counted: ["hairs", "black-dots"],
    hairs: [{ at: [100.5, 200], class: "terminal", unit: 1 }, { at: [104, 203] }],
    dots: [{ at: [10, 20], finding: "black-dots" }],
    widths: [{ from: [1, 2], to: [4, 6] }],
    arrows: [{ at: [300, 300], finding: "exclamation-mark-hairs" }],
    patches: [
      {
        outline: [
          [0, 0],
          [10, 0],
          [10, 10],
        ],
      },
    ],
  });
});

const FULL: Marks = {
  photo: { file: 'le"ft.jpg', sha256: HASH, widthPx: 700, heightPx: 600 },
  by: "A. Thorsby: #1",
  blurPx: 1.25,
  scale: {
    kind: "lines",
    lines: [
      { from: [0, 0], to: [72, 0], lengthMm: 1 },
      { from: [0, 10], to: [145.25, 10], lengthMm: 2 },
    ],
  },
  area: {
    kind: "polygon",
    corners: [
      [10, 10],
      [500, 10.5],
      [400, 400],
    ],
  },
  counted: ["hairs", "yellow-dots"],
  hairs: [{ at: [100.25, 200], class: "vellus", unit: 12 }, { at: [1, 2] }],
  dots: [{ at: [10, 20], finding: "yellow-dots" }],
  widths: [{ from: [1, 2], to: [4.5, 6] }],
  arrows: [{ at: [300, 300], finding: "blue-grey-dots" }],
  patches: [
    {
      outline: [
        [0, 0],
        [10, 0],
        [10, 10],
      ],
    },
  ],
};

test("marks that are written read as they were, and fit the JSON Schema", () => {
  const validate = new Ajv({ strict: true, allowUnionTypes: true, strictTypes: false }).compile(
    marksJsonSchema(words),
  );
  for (const marks of [
    FULL,
    { ...FULL, area: { kind: "rectangle", from: [1, 2], to: [3, 4] } as const },
    { ...FULL, area: { kind: "circle", centre: [100, 100], radiusPx: 50.5 } as const },
    {
      ...FULL,
      scale: { kind: "field", field: { centre: [1, 1], diameterPx: 600, diameterMm: 3.5 } } as const,
    },
  ]) {
    const text = writeMarks(marks, words);
    expect(readMarks(text, "x", words, { sha256: HASH }).value).toEqual(marks);
    expect(validate(parse(text)), JSON.stringify(validate.errors)).toBe(true);
  }
  expect(validate(parse(`${HEAD}hairs: [{ at: [1, 2, 3] }]`))).toBe(false);
  expect(validate(parse(`${HEAD}hair: []`))).toBe(false);
});

const SPOILED: readonly (readonly [string, readonly string[]])[] = [
  ["", ["1:1 marks-shape: nothing where something else belongs | keys and values"]],
  ["format: 1\n", ["1:1 marks-key: photo is missing | photo: keys and values, indented below it"]],
  [
    `${HEAD}hair: []\n`,
    [
      '3:1 marks-key: "hair" is not a key of this place | one of format, photo, by, blur_px, scale, area, counted, hairs, dots, widths, arrows, patches | hairs',
    ],
  ],
  [
    `${HEAD}hairs:\n  - { at: [3], klass: thin }\n  - { at: [3, x], class: thick }\n`,
    [
      "4:11 marks-shape: a list where something else belongs | a point in pixels, such as [312, 240]",
      '4:16 marks-key: "klass" is not a key of this place | one of at, class, unit | class',
      '5:15 marks-shape: "x" where something else belongs | a number of pixels',
      '5:26 marks-shape: "thick" where something else belongs | terminal, thin, vellus',
    ],
  ],
  [
    `${HEAD}hairs: [{ at: [3, 4], class: terminall }]\n`,
    ['3:30 marks-shape: "terminall" where something else belongs | terminal, thin, vellus | terminal'],
  ],
  [
    `${HEAD}dots: [{ at: [3, 4], finding: yelow dots }]\n`,
    ['3:31 marks-word: "yelow dots" where a finding belongs | a finding | yellow dots'],
  ],
  [
    `${HEAD}counted: [hair shafts]\n`,
    ['3:11 marks-word: "hair shafts" where hairs, or a finding belongs | hairs, or a finding'],
  ],
  [
    `${HEAD}scale: { lines: [], field: {} }\n`,
    [
      "3:17 marks-shape: a list where something else belongs | at least one line",
      "3:28 marks-key: centre is missing | centre: a point in pixels, such as [312, 240]",
      "3:28 marks-key: diameter_px is missing | diameter_px: a number from 1 to 20000 (pixels)",
      "3:28 marks-key: diameter_mm is missing | diameter_mm: a number from 0.1 to 100 (mm)",
    ],
  ],
  [
    `${HEAD}${SCALE.replace("10 }", "10 }, lines: [{ from: [1, 1], to: [9, 9], length_mm: 1 }]")}`,
    ["3:8 marks-shape: keys and values where something else belongs | either lines or field"],
  ],
  [
    `${HEAD}${SCALE}hairs: [{ at: [700, 600] }, { at: [700.1, 600] }]\n`,
    ["4:35 mark-outside: [700.1, 600] lies outside the picture | 0 to 700 across and 0 to 600 down"],
  ],
  [
    `${HEAD}${SCALE}area: { circle: { centre: [300, 300], radius_px: 301 } }\n`,
    [
      "4:17 mark-outside: the area counted reaches beyond the picture, where nothing can be counted | 0 to 700 across and 0 to 600 down",
    ],
  ],
  [
    `${HEAD}${SCALE}hairs: [{ at: [1, 2] }, { at: [1, 2] }]\n`,
    ["4:31 mark-twice: two marks on one point, [1, 2] | each once"],
  ],
  [
    `${HEAD}widths: [{ from: [1, 2], to: [4, 6] }]\n`,
    ["3:9 marks-no-scale: a width or an area without a scale has no size | scale: with lines or field"],
  ],
  [
    `${HEAD}scale: { lines: [{ from: [0, 0], to: [100, 0], length_mm: 1 }, { from: [0, 9], to: [100, 9], length_mm: 1.3 }] }\n`,
    ["3:17 scale-lines-differ: one scale line differs by 13 % from all of them together | at most 10 %"],
  ],
  [
    `${HEAD}${SCALE.replace("diameter_mm: 10", "diameter_mm: 0.3")}`,
    ["3:8 scale-implausible: by its scale the picture is 0.35 mm wide | 0.5 to 500 mm"],
  ],
  [
    `${HEAD}${SCALE}widths: [{ from: [0, 0], to: [14.9, 0] }, { from: [0, 0], to: [15.1, 0] }]\n`,
    ["4:43 width-implausible: a line of 252 micrometres spans no hair | 5 to 250 micrometres"],
  ],
  ["a: [", ["1:5 yaml-syntax: the indentation does not match the lines above, or a bracket is not closed"]],
];

test.each(SPOILED)("%j", (text, expected) => {
  expect(said(text)).toEqual(expected);
});

test("marks of another picture are refused", () => {
  const other = sha256(Buffer.from("another picture"));
  expect(said(HEAD, other)).toEqual([
    `2:36 marks-other-photo: the marks were set on another picture than left-1.jpg | ${other.slice(0, 12)}, the hash of the photo beside the marks`,
  ]);
  expect(readMarks(HEAD, "x", words, { sha256: other }).value).toBeUndefined();
  expect(said(HEAD, HASH)).toEqual([]);
});

test("every row of the table says what it means and what cures it", () => {
  for (const [id, { meaning, cure }] of Object.entries(MARKS_PROBLEMS)) {
    expect(id).toMatch(/^[a-z]+(?:-[a-z]+)*$/u);
    for (const sentence of [meaning, cure]) expect(sentence, id).toMatch(/^[A-Z].*[.]$/su);
  }
});
