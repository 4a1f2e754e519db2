/** Limits of the reader, each with a value on either side. */
import { describe, expect, test } from "vitest";
import { daysBetween, isDay, yearsBetween } from "../../src/visit/calendar.js";
import { amountOfCount } from "../../src/visit/findings-map.js";
import { inReadingOrder, parseVisit } from "../../src/visit/read.js";
import { converted, sameInOtherUnit } from "../../src/visit/slips/units.js";
import { testKnowledge } from "./test-knowledge.js";

describe("the calendar", () => {
  test("an age turns on the birthday itself", () => {
    expect(yearsBetween("1990-03-12", "2026-03-11")).toBe(35);
    expect(yearsBetween("1990-03-12", "2026-03-12")).toBe(36);
    expect(yearsBetween("1990-03-12", "2026-12-01")).toBe(36);
    expect(yearsBetween("2026-03-12", "2026-03-11")).toBe(-1);
    expect([yearsBetween("", "2026-03-11"), yearsBetween("1990-03-12", "soon")]).toEqual([
      Number.NaN,
      Number.NaN,
    ]);
  });
  test("days, across the change of clocks and of years", () => {
    expect(daysBetween("2026-03-28", "2026-03-30")).toBe(2);
    expect(daysBetween("2025-12-31", "2026-01-01")).toBe(1);
    expect(daysBetween("2026-01-02", "2026-01-01")).toBe(-1);
  });
  test("days that exist", () => {
    expect(["2024-02-29", "2026-12-31", "2026-01-01", "0001-01-01"].map(isDay)).toEqual([
      true,
      true,
      true,
      true,
    ]);
    expect(
      ["2026-02-29", "2026-13-01", "2026-00-10", "2026-01-00", "2026-04-31", "0000-01-01", "2026-1-1"].some(
        isDay,
      ),
    ).toBe(false);
  });
});

test.each([
  [1, 1, "single"],
  [1, 2, "single"],
  [2, 2, "single"],
  [3, 2, "few"],
  [2, 1, "few"],
  [7, 2, "few"],
  [4, 1, "several"],
  [19, 2, "several"],
  [20, 2, "many"],
] as const)("%d in %d fields are %s", (count, fields, amount) => {
  expect(amountOfCount(count, fields)).toBe(amount);
});

test("units, converted to three figures, weeks from four on whole", () => {
  expect(converted(10, "months", "weeks")).toBe(44);
  expect(converted(3, "month", "weeks")).toBe(13);
  expect(converted(3, "days", "weeks")).toBe(0.429);
  expect(converted(2, "years", "weeks")).toBe(104);
  expect(converted(3.2, "CM", "mm")).toBe(32);
  expect(converted(0.061, "mm", "micrometres")).toBe(61);
  expect(converted(18, "months", "years")).toBe(1.5);
  expect(converted(3, "spoons", "mm")).toBeUndefined();
  expect(sameInOtherUnit("duration_months", ["onset", "duration_weeks"])).toEqual({
    key: "duration_weeks",
    from: "months",
    to: "weeks",
  });
  expect(sameInOtherUnit("months_before", ["weeks_before"])?.key).toBe("weeks_before");
  expect(sameInOtherUnit("months", ["weeks"])?.key).toBe("weeks");
  expect(sameInOtherUnit("duration_weeks", ["duration_weeks"])).toBeUndefined();
  expect(sameInOtherUnit("duration_colours", ["duration_weeks"])).toBeUndefined();
});

interface Parts {
  readonly born?: string;
  readonly weeks?: number;
  readonly sex?: string;
  readonly pregnancy?: string;
  readonly title?: string;
  readonly patch?: string;
  readonly site?: string;
  readonly copy?: string;
}
function read({
  born = "1990-03-12",
  weeks,
  sex = "female",
  pregnancy,
  title,
  patch,
  site = "vertex",
  copy,
}: Parts) {
  const line = (key: string, value: unknown) => (value === undefined ? "" : `  ${key}: ${value}\n`);
  const text = `format: 1
visit: { id: V-1, date: 2026-03-12, status: draft, seen_by: a, reason: New patch. }
patient:
  id: P-1
  name: { ${title ? `title: ${title}, ` : ""}given: Runa, family: Sandvik }
  born: ${born}
  sex: ${sex}
${line("pregnancy", pregnancy)}send_to:
  - { role: doctor, name: Dr Lund, address: [1 Fish Street]${copy ? `, copy: ${copy}` : ""} }
history:
  onset: sudden
${line("duration_weeks", weeks)}sites:
  - site: ${site}
    findings: { yellow dots: few }
${patch ? `    patch: ${patch}\n` : ""}`;
  return parseVisit(text, "visit.yaml", testKnowledge, { today: "2026-12-01" });
}
const says = (parts: Parts) =>
  read(parts)
    .problems.filter((p) => p.severity !== "note")
    .map((p) => `${p.severity} ${p.id}`);

describe("a patient", () => {
  test.each([
    [{ born: "2026-03-12" }, []],
    [{ born: "2026-03-13" }, ["error born-after-visit"]],
    [{ born: "1906-03-12" }, []],
    [{ born: "1905-03-12" }, ["error too-old"]],
    // 364 days, 52 weeks; one week more is allowed for counting in round weeks.
    [{ born: "2025-03-13", weeks: 53 }, []],
    [{ born: "2025-03-13", weeks: 53.1 }, ["error longer-than-life"]],
    [{ born: "2010-03-12", title: "Dr" }, []],
    [{ born: "2010-03-13", title: "Dr" }, ["warning title-against-age"]],
    [{ born: "2010-03-13", title: "Miss" }, []],
    [{ born: "2015-03-12", pregnancy: "pregnant" }, []],
    [{ born: "2015-03-13", pregnancy: "pregnant" }, ["warning pregnancy-unlikely"]],
    [{ born: "1970-03-13", pregnancy: "planning" }, []],
    [{ born: "1970-03-12", pregnancy: "planning" }, ["warning pregnancy-unlikely"]],
    [{ sex: "male", pregnancy: "pregnant" }, ["warning pregnancy-unlikely"]],
    [{ sex: "male", pregnancy: "no" }, []],
  ] as const)("%j", (parts, expected) => {
    const found = says(parts);
    expect(found.map((f) => f.replace(/^(?:error|warning) /u, ""))).toEqual(
      expected.map((f) => f.replace(/^(?:error|warning) /u, "")),
    );
  });
});

describe("a patch", () => {
  // The vertex is taken as 140 by 120 mm: 1.15 and 1.6 times that.
  test.each([
    ["{ length_mm: 161, width_mm: 100 }", []],
    ["{ length_mm: 162, width_mm: 100 }", ["warning patch-exceeds-region"]],
    ["{ length_mm: 150, width_mm: 138 }", []],
    ["{ length_mm: 150, width_mm: 139 }", ["warning patch-exceeds-region"]],
    ["{ length_mm: 224, width_mm: 100 }", ["warning patch-exceeds-region"]],
    ["{ length_mm: 225, width_mm: 100 }", ["error patch-exceeds-region"]],
    ["{ length_mm: 351, width_mm: 100 }", ["error patch-exceeds-head"]],
  ])("%s", (patch, expected) => {
    expect(says({ patch })).toEqual(expected);
  });
  test("wider than long is noted, as wide as long is not", () => {
    const turned = (patch: string) => read({ patch }).problems.some((p) => p.id === "patch-turned");
    expect([turned("{ length_mm: 30, width_mm: 30 }"), turned("{ length_mm: 30, width_mm: 31 }")]).toEqual([
      false,
      true,
    ]);
  });
  test("longer than a head, along whichever measure is the longer", () => {
    const column = (patch: string) =>
      read({ patch }).problems.find((p) => p.id === "patch-exceeds-head")?.path;
    expect(column("{ length_mm: 351, width_mm: 20 }")).toBe("sites[0].patch.length_mm");
    expect(column("{ length_mm: 20, width_mm: 351 }")).toBe("sites[0].patch.width_mm");
    expect(column("{ length_mm: 350, width_mm: 20 }")).toBeUndefined();
  });
});

test("what is left out has its value: no copy, no large print, British English, not stated", () => {
  const { value } = read({});
  expect(value?.sendTo).toEqual([
    { role: "doctor", name: "Dr Lund", address: ["1 Fish Street"], copy: false },
  ]);
  expect(read({ copy: "yes" }).value?.sendTo[0]?.copy).toBe(true);
  expect(value?.patient).toMatchObject({ language: "en-GB", largePrint: false, address: [] });
});

test("problems stand by gravity, then line, then column", () => {
  const at = (severity: "error" | "warning" | "note", line?: number, column?: number) => ({
    severity,
    id: "left-empty" as const,
    message: `${severity} ${line ?? 0} ${column ?? 0}`,
    ...(line === undefined ? {} : { line }),
    ...(column === undefined ? {} : { column }),
  });
  const ordered = inReadingOrder([
    at("note", 1, 1),
    at("warning", 2, 9),
    at("warning", 2, 3),
    at("error", 9, 1),
    at("error"),
    at("warning", 1, 20),
  ]);
  expect(ordered.map((p) => p.message)).toEqual([
    "error 0 0",
    "error 9 1",
    "warning 1 20",
    "warning 2 3",
    "warning 2 9",
    "note 1 1",
  ]);
});
