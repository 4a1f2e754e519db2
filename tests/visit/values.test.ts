/** Single values to the letter: each reason to refuse one, on both sides of its limit, and what it is taken for. */
import { mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { isResultOf, isSettled } from "../../src/visit/awaited.js";
import { photosHash, photosOnDisk } from "../../src/visit/beside-photo.js";
import { decodeText } from "../../src/visit/decode.js";
import { visitJsonSchema } from "../../src/visit/json-schema.js";
import { parseVisit } from "../../src/visit/read.js";
import { readKey } from "../../src/visit/read-key.js";
import { badCharacter, showsNothing } from "../../src/visit/safe-text.js";
import { differences, foldName, type Identity, nameKey } from "../../src/visit/same-patient.js";
import { changedKeys, newSeal, sealOf, sealProblems } from "../../src/visit/seal.js";
import type { Visit } from "../../src/visit/visit.js";
import { testKnowledge } from "./test-knowledge.js";

const long = (letters: number) => "x".repeat(letters);
/** The value, or the message with what is suggested. */
const read = (path: string, written: string) => {
  const steps = path.split(".").map((step) => (/^\d+$/u.test(step) ? Number(step) : step));
  const { value, problem } = readKey(testKnowledge, steps, written);
  return problem ? [problem.message, problem.suggestion].filter(Boolean).join(" -> ") : value;
};

describe("a value of a key", () => {
  test.each([
    [
      "patient.born",
      "1/2/1990",
      '"1/2/1990" does not say which figure is the month -> 1990-02-01 or 1990-01-02',
    ],
    ["patient.born", "2/2/1990", '"2/2/1990" is not written as year-month-day -> 1990-02-02'],
    ["patient.born", "13.1.1990", '"13.1.1990" is not written as year-month-day -> 1990-01-13'],
    ["patient.born", "1-2-90", '"1-2-90" gives the year in two figures'],
    ["patient.born", "32/13/1990", '"32/13/1990" does not say which figure is the month'],
    ["patient.born", "1/2/199", '"1/2/199" is not a date'],
    ["history.duration_weeks", "x 20", "a times sign is written with the number -> 20"],
    ["history.duration_weeks", "× 2.25 ", "a times sign is written with the number -> 2.25"],
    ["history.duration_weeks", "2 x 20", '"2 x 20" is not a number'],
    ["history.duration_weeks", "x 20 x", '"x 20 x" is not a number'],
    ["history.duration_weeks", "3 months", 'the unit "months" is written with the number -> 13'],
    ["history.duration_weeks", "1e3", 1000],
    ["patient.id", long(64), long(64)],
    ["patient.id", long(65), "65 letters are too many for an id"],
    ["patient.id", "a..b", '"a..b" cannot stand in an id, which also names the files'],
    ["patient.id", "a.", '"a." cannot stand in an id, which also names the files'],
    ["patient.id", "con", '"con" cannot name a file on every computer'],
    ["patient.id", "lpt1.a", '"lpt1.a" cannot name a file on every computer'],
    ["patient.id", "contact", "contact"],
    ["patient.id", "-a", '"-" cannot stand in an id, which also names the files'],
    ["patient.id", "A\u0301-1", "Á-1"],
    ["patient.id", "a\u200bb", "an invisible character (U+200B, one that shows nothing) in the id"],
    ["patient.large_print", "Yes", true],
    ["patient.large_print", "off", false],
    ["patient.large_print", "maybe", '"maybe" is neither true nor false'],
    ["patient.language", "en_gb", "en-GB"],
    ["patient.language", "und", '"und" is not a language tag'],
    ["patient.language", "mul-GB", '"mul-GB" is not a language tag'],
    ["patient.language", "e", '"e" is not a language tag'],
    ["patient.language", "en-a-a", '"en-a-a" is not a language tag'],
    ["sites.0.photos.0.file", "a/b.jpg", "a/b.jpg"],
    ["sites.0.photos.0.file", "../b.jpg", "the path leads out of the visit's folder"],
    ["sites.0.photos.0.file", "a/ .. /b.jpg", "the path leads out of the visit's folder"],
    ["sites.0.photos.0.file", "a..b.jpg", "a..b.jpg"],
    ["sites.0.photos.0.file", "/b.jpg", "a path from the root of the disk"],
    ["sites.0.photos.0.file", "~/b.jpg", "a path from the root of the disk"],
    ["sites.0.photos.0.file", "c:b.jpg", "a path from the root of the disk"],
    ["sites.0.photos.0.file", "a\\b.jpg", "a backslash in the path -> a/b.jpg"],
    ["sites.0.photos.0.file", "ab:c.jpg", "a colon in the path"],
    ["sites.0.photos.0.file", "HTTP://a.example/b.jpg", "an address of the web where a file belongs"],
    ["sites.0.photos.0.file", long(200), long(200)],
    ["sites.0.photos.0.file", long(201), "201 letters are too many for a path"],
  ] as const)("%s: %s", (path, written, told) => {
    expect(read(path, written)).toEqual(told);
  });

  test("is a count of none only where all its figures are noughts", () => {
    const count = (written: string) => {
      const text = `visit: { id: A, date: 2026-05-05, seen_by: a, reason: x }
patient: { id: P, name: { family: S }, born: 1991-07-04, sex: female }
sites: [{ site: vertex, findings: { yellow dots: { count: ${written} } } }]\n`;
      const { value, problems } = parseVisit(text, "v.yaml", testKnowledge);
      return (
        problems.find((p) => p.severity === "error")?.id ?? JSON.stringify(value?.sites[0]?.findings[0]?.seen)
      );
    };
    expect(["0", "00", "' 0 '", "-0", "01", "10", "1"].map(count)).toEqual([
      "count-zero",
      "count-zero",
      "count-zero",
      "count-zero",
      '{"state":"present","amount":"single","count":{"count":1,"fields":1}}',
      '{"state":"present","amount":"many","count":{"count":10,"fields":1}}',
      '{"state":"present","amount":"single","count":{"count":1,"fields":1}}',
    ]);
  });

  test("is described for other programs", () => {
    const schema = JSON.parse(JSON.stringify(visitJsonSchema(testKnowledge))) as Record<string, unknown>;
    const { asked } = schema.properties as Record<string, { properties: Record<string, unknown> }>;
    const answer = {
      description: "yes or no, for a question of the facts catalogue.",
      anyOf: [
        {
          anyOf: [{ type: "boolean" }, { type: "string", pattern: expect.stringContaining("[Yy][Ee][Ss]") }],
        },
        { type: "null" },
      ],
    };
    expect(asked?.properties["jaw ache"]).toEqual({ description: "jaw ache.", allOf: [answer] });
  });
});

test.each([
  ["a\u202eb", "U+202E, one that turns the direction of reading"],
  ["a\tb", "U+0009, a control character"],
  ["a\u009f", "U+009F, a control character"],
  ["a\nb", undefined],
  ["a\u2028", "U+2028, a line separator"],
  ["a\u00adb", "U+00AD, one that shows nothing"],
  ["a\u200db", "U+200D, one that shows nothing"],
  ["\u200ca", "U+200C, one that shows nothing"],
  ["\u0915\u094d\u200d\u0937", undefined],
  ["\u{1f469}\u200d\u{1f9b0}", undefined],
  ["a\u{e0041}", "U+E0041, one that shows nothing"],
  ["a\ufeff", "U+FEFF, one that stands for no letter"],
  ["a\ufffd", undefined],
  ["a\ud800", "U+D800, half of a character"],
])("%j is told by its odd letter", (text, told) => {
  expect(badCharacter(text)).toBe(told);
});

test("a text shows nothing when it is all spaces, marks and signs without letters", () => {
  expect(["", " ", "\u0301", " \u00a0\u200b", "a", "."].map(showsNothing)).toEqual([
    false,
    true,
    true,
    true,
    false,
    false,
  ]);
});

describe("bytes of a file", () => {
  const told = (...bytes: number[]) => {
    const { text, problem } = decodeText(Uint8Array.from(bytes), "f");
    return text ?? `${problem?.id} ${problem?.line ?? "-"}:${problem?.column ?? "-"} ${problem?.message}`;
  };
  test.each([
    ["a letter that is none", [97, 10, 98, 0xff, 99], "not-utf8 2:2 a byte (FF) that is not UTF-8"],
    ["a letter cut short", [97, 0xc3, 98], "not-utf8 1:2 a byte (C3) that is not UTF-8"],
    ["a letter cut short at the end", [97, 0xe2, 0x82], "not-utf8 1:2 a byte (E2) that is not UTF-8"],
    ["a small byte", [0x0f, 0xff], "not-utf8 1:2 a byte (FF) that is not UTF-8"],
    ["a zero", [97, 13, 10, 13, 98, 0, 99], "not-text 3:2 a zero byte: this is not a text file"],
    ["UTF-16 by its mark", [0xff, 0xfe, 97, 0], "a"],
    ["UTF-16 the other way round", [0xfe, 0xff, 0, 97], "a"],
    ["UTF-16 without a mark", [97, 0, 98, 0], "ab"],
    ["UTF-16 without a mark, the other way round", [0, 97, 0, 98], "ab"],
    ["UTF-16 of one letter", [97, 0], "not-text 1:2 a zero byte: this is not a text file"],
    [
      "UTF-16 that breaks off",
      [0xff, 0xfe, 97],
      "not-utf8 1:1 the file begins as UTF-16 and then holds bytes that are none",
    ],
    ["UTF-32 by its mark", [0xff, 0xfe, 0, 0, 97, 0, 0, 0], "not-utf8 1:1 the file is UTF-32 text"],
    ["UTF-32 without a mark", [97, 0, 0, 0, 98, 0, 0, 0], "not-utf8 1:1 the file is UTF-32 text"],
    ["UTF-32 the other way round", [0, 0, 0, 97, 0, 0, 0, 98], "not-utf8 1:1 the file is UTF-32 text"],
    [
      "four noughts too few for UTF-32",
      [0, 0, 0, 97, 98, 0, 0, 98],
      "not-text 1:1 a zero byte: this is not a text file",
    ],
    [
      "noughts on the other side than UTF-32",
      [97, 0, 0, 0, 0, 0, 0, 98],
      "not-text 1:2 a zero byte: this is not a text file",
    ],
    ["a mark of UTF-8", [0xef, 0xbb, 0xbf, 97], "a"],
  ])("%s", (_what, bytes, expected) => {
    expect(told(...bytes)).toBe(expected);
  });
  test("more than a MiB are too many, a MiB is not", () => {
    const of = (length: number) => decodeText(new Uint8Array(length).fill(97), "f").problem?.message;
    expect(of(1024 * 1024)).toBeUndefined();
    expect(of(1024 * 1024 + 1)).toBe("1.0 MiB are more than a visit's 1 MiB");
  });
});

describe("two people", () => {
  const who = (given: Partial<Identity>): Identity => ({
    visit: "V",
    date: "2026-01-15",
    patient: "P",
    given: "Runa",
    family: "Havelock",
    born: "1984-09-30",
    sex: "female",
    accepts: [],
    ...given,
  });
  test.each([
    [{ sex: "male" }, ["sex-differs"]],
    [{ sex: "Female" }, []],
    [{ sex: "not stated" }, []],
    [{ sex: "" }, []],
    [{ given: "Rune" }, ["given-differs"]],
    [{ given: "" }, []],
    [{ family: "" }, []],
    [{ given: "Havelock", family: "Runa" }, []],
    [
      { given: "Rune", family: "Lund", born: "1990-01-01", sex: "male" },
      ["given-differs", "family-differs", "born-differs", "sex-differs"],
    ],
  ] as const)("%j", (other, expected) => {
    expect(differences(who({}), who(other))).toEqual(expected);
    expect(differences(who(other), who({}))).toEqual(expected);
  });
  test("are one by their name without case, accents, order and marks", () => {
    expect(foldName("Müller-Straße")).toEqual(foldName("mueller strasse"));
    expect(foldName("O’Neil Łucja")).toEqual(["lucja", "oneil"]);
    expect(foldName("Bærø þórr đı ð œ")).toEqual(["baro", "di", "d", "o", "thorr"].sort());
    expect(nameKey({ given: "B", family: "A" })).toBe("a b");
  });
});

describe("a result", () => {
  const awaited = { name: "Biopsy", date: "2026-03-01" };
  test("is of the sample awaited, or of one after it, by its name or by what it says it answers", () => {
    expect(
      [
        { name: "biopsy", result: "clear" },
        { name: "biopsy", result: "clear", date: "2026-03-01" },
        { name: "biopsy", result: "clear", date: "2026-02-28" },
        { name: "culture", result: "clear" },
        { name: "histology", result: "clear", resultOf: "BIOPSY" },
        { name: "biopsy", result: "clear", resultOf: "culture" },
        { name: "biopsy", result: "pending" },
      ].map((later) => isResultOf(later, awaited)),
    ).toEqual([true, true, false, false, true, false, false]);
    expect(isResultOf({ name: "biopsy", result: "clear", date: "2026-02-28" }, { name: "biopsy" })).toBe(
      true,
    );
  });
  test("in figures settles whatever its words", () => {
    expect(
      [{ value: 3, result: "interim" }, { result: "interim" }, { result: "negative" }].map(isSettled),
    ).toEqual([true, false, true]);
  });
});

const TEXT = `visit: { id: A1, date: 2026-05-05, status: draft, seen_by: a, reason: Patch. }
patient: { id: P1, name: { given: Runa, family: Sandvik }, born: 1991-07-04, sex: female }
sites: [{ site: vertex, findings: { yellow dots: few, black dots: none } }]
impression: [{ disorder: alopecia areata, certainty: probable }]
`;
const visitOf = (text: string): Visit => {
  const { value, problems } = parseVisit(text, "v.yaml", testKnowledge);
  if (!value) throw new Error(problems.map((p) => p.message).join());
  return value;
};

describe("a seal", () => {
  const visit = visitOf(TEXT);
  const photos = "0123456789abcdef".repeat(2);
  const signed = (text: string, seal: string): Visit => ({
    ...visitOf(text),
    status: "signed",
    signed: { by: "a", at: "2026-05-05T10:00:00Z", seal, edition: 1 } as Visit["signed"] & object,
  });
  const told = (one: Visit, before?: Visit, seen?: string) =>
    sealProblems(one, before, seen).map((p) => p.message);

  test("holds for what is written in another way, and not for what says something else", () => {
    const seal = newSeal(visit, undefined);
    expect(seal).toMatch(/^1-[0-9a-f]{64}$/u);
    expect(newSeal(visit, photos)).toBe(`2-${seal.slice(2)}-${photos}`);
    const otherwise = TEXT.replace("yellow dots: few, black dots: none", "Black-Dot: none, Yellow Dot: few");
    expect(told(signed(TEXT, seal))).toEqual([]);
    expect(
      sealOf(
        visitOf(otherwise.replace("Black-Dot: none, Yellow Dot: few", "yellow dot: few, Black-Dots: none")),
      ),
    ).toBe(seal);
    const changed = TEXT.replace("probable", "possible").replace("Patch.", "Scale.");
    expect(told(signed(changed, seal))).toEqual(["the visit was changed after it was signed"]);
    expect(told(signed(changed, seal), visit)).toEqual([
      "the visit was changed after it was signed: visit.reason, impression[0].certainty",
    ]);
    expect(told({ ...signed(changed, seal), status: "draft" })).toEqual([]);
    expect(sealOf(signed(changed, seal))).not.toBe(seal);
  });

  test("covers photos by their bytes where it was given so", () => {
    const seal = newSeal(visit, photos);
    expect(sealOf(signed(TEXT, seal))).toBe(seal);
    expect(told(signed(TEXT, seal), undefined, photos)).toEqual([]);
    expect(told(signed(TEXT, seal), undefined, undefined)).toEqual([
      "the visit was changed after it was signed: photos or their marks",
    ]);
    expect(told(signed(TEXT, `${seal}0`), undefined, photos)).toEqual([
      "the visit was changed after it was signed",
    ]);
  });

  test("names eight changes, then more", () => {
    const many = (from: number, count: number) => ({
      ...visit,
      tests: Array.from({ length: count }, (_, i) => ({ name: `t${from + i}` })),
    });
    const seal = newSeal(many(0, 9), undefined);
    const later = (count: number): Visit => ({ ...signed(TEXT, seal), tests: many(10, count).tests });
    expect(changedKeys(many(0, 2), many(10, 3))).toEqual(["tests[0].name", "tests[1].name", "tests[2]"]);
    const names = (count: number) => Array.from({ length: count }, (_, i) => `tests[${i}].name`).join(", ");
    expect(told({ ...later(8) }, many(0, 8))).toEqual([
      `the visit was changed after it was signed: ${names(8)}`,
    ]);
    expect(told({ ...later(9) }, many(0, 9))).toEqual([
      `the visit was changed after it was signed: ${names(8)}, more`,
    ]);
  });
});

test("photos on disk are looked at once, with the marks beside them, and nothing outside the folder", () => {
  const folder = mkdtempSync(join(tmpdir(), "whorl-photos-"));
  mkdirSync(join(folder, "v"));
  for (const [name, text] of [
    ["v/a.jpg", "picture"],
    ["v/a.marks.yaml", "marks"],
    ["v/b.marks.yaml", "alone"],
    ["c.marks.yaml", "outside"],
  ] as const)
    writeFileSync(join(folder, name), text);
  const file = join(folder, "v", "visit.yaml");
  const { beside, seen } = photosOnDisk(file);
  const [first, none] = [beside("a.jpg"), beside("d.jpg")];
  expect(first).toMatchObject({
    text: "marks",
    problems: [],
    sha256: expect.stringMatching(/^[0-9a-f]{64}$/u),
  });
  expect(beside("b.jpg")).toEqual({ text: "alone", problems: [] });
  expect([none, beside("../c.jpg"), beside("/c.jpg"), beside("c:c.jpg"), beside("..\\c.jpg")]).toEqual(
    Array(5).fill(undefined),
  );
  expect([...seen.keys()]).toEqual(
    ["a.marks.yaml", "a.jpg", "b.marks.yaml"].map((name) => join(folder, "v", name)),
  );
  writeFileSync(join(folder, "v/a.marks.yaml"), "other");
  writeFileSync(join(folder, "v/d.marks.yaml"), "late");
  expect([beside("a.jpg"), beside("d.jpg")]).toEqual([first, undefined]);
  const hash = (...names: string[]) =>
    photosHash({ sites: [{ photos: names.map((name) => ({ file: name })) }] } as unknown as Visit, file);
  expect(hash()).toBeUndefined();
  expect(hash("a.jpg")).toMatch(/^[0-9a-f]{32}$/u);
  expect(hash("b.jpg", "a.jpg", "a.jpg")).toBe(hash("a.jpg", "b.jpg"));
  expect(hash("a.jpg")).not.toBe(hash("b.jpg"));
});
