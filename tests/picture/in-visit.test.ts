/** Marks beside the photos of a visit: what they fill, what they contradict, and where that is told. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { MARKS_PROBLEMS } from "../../src/base/problem-table.js";
import { sha256 } from "../../src/base/sha256.js";
import { meaningOf } from "../../src/batch/meanings.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { measure } from "../../src/measure/index.js";
import type { Marks } from "../../src/picture/marks.js";
import { findingWords } from "../../src/picture/marks-schema.js";
import { writeMarks } from "../../src/picture/write-marks.js";
import { parseVisit, readVisit } from "../../src/visit/read.js";

const knowledge = loadKnowledge();
const words = findingWords(knowledge.findings);
const SHA = sha256(Buffer.from("picture"));

/** Ten pixels to the millimetre; three hairs of two units inside, one outside. */
const MARKS: Marks = {
  photo: { file: "a.jpg", sha256: SHA, widthPx: 100, heightPx: 100 },
  scale: { kind: "field", field: { centre: [50, 50], diameterPx: 100, diameterMm: 10 } },
  area: { kind: "rectangle", from: [10, 10], to: [60, 50] },
  counted: ["hairs", "yellow-dots"],
  hairs: [
    { at: [20, 20], class: "terminal", unit: 1 },
    { at: [21, 20], class: "thin", unit: 1 },
    { at: [40, 40], class: "vellus", unit: 2 },
    { at: [80, 80], class: "vellus", unit: 3 },
  ],
  dots: [{ at: [30, 30], finding: "yellow-dots" }],
  widths: [
    { from: [20, 20], to: [20.6, 20] },
    { from: [40, 40], to: [40.45, 40] },
  ],
  arrows: [],
  patches: [],
};

const visit = (site: string, scope = "") => `format: 1
visit: { id: V-1, date: 2026-03-12, seen_by: anneli-thorsby, status: draft, reason: Hair loss. }
patient: { id: P-1, name: { given: Ada, family: Brook }, born: 1990-01-01, sex: female }
${scope}sites:
  - site: vertex
${site}`;

function read(site: string, marks: Readonly<Record<string, Marks | string>>, scope = "") {
  return parseVisit(visit(site, scope), "folder/v.yaml", knowledge, {
    today: "2026-12-01",
    beside: (photo) => {
      const own = marks[photo];
      if (own === undefined) return undefined;
      return { text: typeof own === "string" ? own : writeMarks(own, words), problems: [], sha256: SHA };
    },
  });
}

const told = (found: ReturnType<typeof read>) =>
  found.problems
    .filter(({ id }) => Object.hasOwn(MARKS_PROBLEMS, id) || id.startsWith("photo"))
    .map(({ file, line, column, id, message, found: was, expected }) =>
      [`${file}:${line}:${column} ${id}: ${message}`, was, expected].filter(Boolean).join(" | "),
    );

const PHOTO = "    photos: [{ file: a.jpg }]\n";

test("counts and diameters that nobody typed are taken from the marks", () => {
  const found = read(PHOTO, { "a.jpg": MARKS });
  expect(told(found)).toEqual([]);
  expect(found.value?.sites[0]?.fields).toEqual([
    { hairs: 3, thin: 2, vellus: 1, units: { 1: 1, 2: 1 }, yellowDots: 1, areaMm2: 20 },
  ]);
  expect(found.value?.sites[0]?.diametersUm).toEqual([60, 45]);
  expect(found.value?.marks).toEqual([{ siteIndex: 0, photoIndex: 0, marks: MARKS }]);
});

test("the density is that of the area counted, not of the whole field", () => {
  const { value } = read(PHOTO, { "a.jpg": MARKS });
  const density = value && measure(value, knowledge).measured.find(({ id }) => id === "hair-density");
  expect(density?.value).toBeCloseTo(15, 9);
});

test("only what was counted to the last fills a count", () => {
  const found = read(PHOTO, { "a.jpg": { ...MARKS, counted: [] } });
  expect(told(found)).toEqual([]);
  expect(found.value?.sites[0]?.fields).toEqual([]);
  const none = read(PHOTO, { "a.jpg": { ...MARKS, counted: ["hairs"], hairs: [], widths: [] } });
  expect(none.value?.sites[0]?.fields).toEqual([{ hairs: 0, thin: 0, vellus: 0, areaMm2: 20 }]);
});

test("typed numbers that agree stand", () => {
  const found = read(
    `    fields: [{ hairs: 3, thin: 2, units: { 1: 1, 2: 1 } }]
    diameters_um: [45, 60]
    photos: [{ file: a.jpg, field: 1 }]
`,
    { "a.jpg": MARKS },
  );
  expect(told(found)).toEqual([]);
  expect(found.value?.sites[0]?.fields[0]).toMatchObject({ hairs: 3, vellus: 1, yellowDots: 1 });
  expect(found.value?.sites[0]?.diametersUm).toEqual([60, 45]);
});

test("typed numbers that disagree are told with both values, at the typed one", () => {
  const found = read(
    `    fields:
      - { hairs: 4, thin: 2, units: { 1: 2, 2: 1 }, area_mm2: 25 }
    diameters_um: [45, 70]
    photos: [{ file: a.jpg, field: 1 }]
`,
    { "a.jpg": MARKS },
  );
  expect(told(found)).toEqual([
    "folder/v.yaml:7:18 count-against-marks: hairs: 4 here, and a.marks.yaml counts 3 | 4 | 3, or other marks; left out here, it is taken from the marks",
    "folder/v.yaml:7:42 count-against-marks: units of 1: 2 here, and a.marks.yaml counts 1 | 2 | 1, or other marks; left out here, it is taken from the marks",
    "folder/v.yaml:7:63 count-against-marks: area mm2: 25 here, and a.marks.yaml counts 20 | 25 | 20, or other marks; left out here, it is taken from the marks",
    "folder/v.yaml:8:24 diameter-against-marks: a diameter of 70 micrometres that no line of a.marks.yaml measures; the nearest measures 60 | 70 | a width that is marked; left out here, all are taken from the marks",
  ]);
  expect(found.value).toBeUndefined();
});

test("a diameter that is missing among those typed is told, and half a micrometre is none", () => {
  const typed = (list: string) =>
    told(read(`    diameters_um: [${list}]\n${PHOTO}`, { "a.jpg": { ...MARKS, counted: [] } }));
  expect(typed("60.5, 44.5")).toEqual([]);
  expect(typed("60.6, 45")).toHaveLength(1);
  expect(typed("60")).toEqual([
    "folder/v.yaml:6:19 diameter-against-marks: 1 diameter here, and a.marks.yaml measures 2; 45 micrometres is missing | 1 | 2 diameters; left out here, all are taken from the marks",
  ]);
});

test("one lens has one field", () => {
  const scope = (mm: number) =>
    told(read(PHOTO, { "a.jpg": MARKS }, `scope: { field_diameter_mm: ${mm} }\n`));
  expect(scope(10.2)).toEqual([]);
  expect(scope(10.3)).toEqual([
    "folder/v.yaml:4:29 field-against-marks: a field of 10.3 mm, and a.marks.yaml has one of 10 mm | 10.3 mm | 10 mm, or other marks",
  ]);
});

test("several photos fill fields in their order; one that names its field fills that one", () => {
  const second = { ...MARKS, hairs: MARKS.hairs.slice(0, 1), widths: [] };
  const found = read("    photos: [{ file: a.jpg }, { file: b.jpg, field: 1 }]\n", {
    "a.jpg": MARKS,
    "b.jpg": second,
  });
  expect(told(found)).toEqual([]);
  expect(found.value?.sites[0]?.fields.map(({ hairs }) => hairs)).toEqual([1, 3]);
});

test("a photo beside typed fields says which it shows", () => {
  const found = read(`    fields: [{ hairs: 3 }, { hairs: 9 }]\n${PHOTO}`, { "a.jpg": MARKS });
  expect(told(found)).toEqual([
    "folder/v.yaml:7:14 marks-without-field: a.marks.yaml counts a field, and the photo does not say which of those typed it shows | no field | field: 1 to 2",
  ]);
  const beyond = read("    photos: [{ file: a.jpg, field: 3 }]\n", { "a.jpg": MARKS });
  expect(told(beyond)).toEqual([
    "folder/v.yaml:6:36 photo-without-field: a photograph of field 3, and no field is counted",
  ]);
});

test("two photos of one field must agree", () => {
  const found = read("    photos: [{ file: a.jpg, field: 1 }, { file: b.jpg, field: 1 }]\n", {
    "a.jpg": MARKS,
    "b.jpg": { ...MARKS, counted: ["yellow-dots"], dots: [], widths: [] },
  });
  expect(told(found)).toEqual([
    "folder/v.yaml:5:5 count-against-marks: yellow dots: 1 here, and b.marks.yaml counts 0 | 1 | 0, or other marks; left out here, it is taken from the marks",
  ]);
});

test("a fault in the marks stops the visit, at its place in the marks file", () => {
  const other = writeMarks({ ...MARKS, photo: { ...MARKS.photo, sha256: "0".repeat(64) } }, words);
  const found = read("    photos: [{ file: photos/a.jpg }]\n", { "photos/a.jpg": other });
  expect(told(found)).toEqual([
    `folder/photos/a.marks.yaml:4:11 marks-other-photo: the marks were set on another picture than a.jpg | 000000000000 | ${SHA.slice(0, 12)}, the hash of the photo beside the marks`,
  ]);
  expect(found.value).toBeUndefined();
});

test("on disk the marks are found beside the photo", () => {
  const folder = mkdtempSync(join(tmpdir(), "whorl-marks-"));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  mkdirSync(join(folder, "photos"));
  const file = join(folder, "v.yaml");
  writeFileSync(file, visit("    photos: [{ file: photos/a.jpg }]\n"));
  writeFileSync(join(folder, "photos", "a.jpg"), "picture");
  expect(readVisit(file, knowledge).value?.sites[0]?.fields).toEqual([]);
  writeFileSync(join(folder, "photos", "a.marks.yaml"), writeMarks(MARKS, words));
  expect(readVisit(file, knowledge).value?.sites[0]?.fields[0]?.hairs).toBe(3);
  writeFileSync(join(folder, "photos", "a.jpg"), "another picture");
  expect(readVisit(file, knowledge).problems.map(({ id }) => id)).toContain("marks-other-photo");
  writeFileSync(join(folder, "photos", "a.marks.yaml"), Buffer.from([0xff, 0xfe, 0x00, 0xd8]));
  expect(readVisit(file, knowledge).problems.find(({ id }) => id === "not-utf8")?.file).toBe(
    join(folder, "photos", "a.marks.yaml"),
  );
});

test("a batch can say what each message means", () => {
  for (const [id, { meaning }] of Object.entries(MARKS_PROBLEMS)) expect(meaningOf(id)).toBe(meaning);
});
