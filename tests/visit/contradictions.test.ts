/** Values that are well written and may not fit each other, on both sides of each limit, with what is said of them. */
import { describe, expect, test } from "vitest";
import { parseVisit } from "../../src/visit/read.js";
import { testKnowledge } from "./test-knowledge.js";

/** Said of every visit as short as these. */
const ALWAYS = new Set([
  "no-impression",
  "no-plan",
  "no-recipient",
  "patient-without-address",
  "site-empty",
  "nothing-recorded",
]);

function read(rest: string, { visit = "", patient = "" } = {}) {
  const text = `visit: { id: V-1, date: 2026-03-12, seen_by: a, reason: x${visit || ", status: draft"} }
patient: { id: P-1, name: { family: Sandvik }, born: 1990-03-12, sex: female${patient} }
${rest}
format: 1
`;
  return parseVisit(text, "v.yaml", testKnowledge, { today: "2026-12-01" });
}
const told = (rest: string, more = {}) =>
  read(rest, more)
    .problems.filter((p) => !ALWAYS.has(p.id))
    .map((p) =>
      [
        `${p.severity} ${p.path}: ${p.message}`,
        p.suggestion && `-> ${p.suggestion}`,
        ...(p.related ?? []).map((r) => `(${r.message}, ${r.line}:${r.column})`),
      ]
        .filter(Boolean)
        .join(" "),
    );
const site = (of: string) => `sites: [{ site: vertex, ${of} }]`;
const field = (of: string) => site(`fields: [{ ${of} }]`);

describe("a place named twice", () => {
  const two = (a: string, b: string) =>
    told(
      `sites:\n  - { site: vertex, findings: { yellow dots: few }${a} }\n  - { site: vertex, findings: { yellow dots: few }${b} }`,
    );
  const twice = ["warning sites[1].site: vertex is named twice (first named here, 4:13)"];
  test.each([
    ["", "", twice],
    [", at: { x: 0.2, y: 0.3 }", "", twice],
    [", at: { x: 0.2, y: 0.3 }", ", at: { x: 0.2, y: 0.3 }", twice],
    [", at: { x: 0.2, y: 0.3 }", ", at: { x: 0.2, y: 0.4 }", []],
    [", at: { x: 0.2, y: 0.3 }", ", at: { x: 0.1, y: 0.3 }", []],
  ])("%s and %s", (a, b, expected) => {
    expect(two(a, b).map((line) => line.replace(/^error/u, "warning"))).toEqual(expected);
  });
});

test.each([
  ["sex: unknown", "not stated"],
  ["sex: Not Recorded", "not stated"],
  ["sex: not stated", "not stated"],
])("%s is %s", (line, sex) => {
  const text = `visit: { id: V, date: 2026-03-12, seen_by: a, reason: x }\npatient: { id: P, name: { family: S }, born: 1990-03-12, ${line} }\n`;
  expect(parseVisit(text, "v.yaml", testKnowledge).value?.patient.sex).toBe(sex);
});

describe("recipients", () => {
  const to = (...list: string[]) =>
    told(`send_to:\n${list.map((one) => `  - { ${one} }`).join("\n")}`).filter(
      (line) => !line.includes("is missing"),
    );
  test.each([
    [["role: gp, name: Dr A, address: [x]"], []],
    [
      ["role: gp, name: Dr A, address: [x]", "role: gp, name: dr a, address: [y]"],
      ["warning send_to[1].name: dr a is named twice (first named here, 4:23)"],
    ],
    [
      ["role: gp, name: Dr A, address: [x], copy: yes"],
      ["warning send_to: everybody named only gets a copy"],
    ],
    [["role: gp, name: Dr A"], ["warning send_to[0].address: Dr A has no address"]],
    [["role: gp, address: [x]", "role: gp, address: [x]"], []],
    [["role: gp"], ["warning send_to[0].address: recipient 1 has no address"]],
  ])("%j", (list, expected) => {
    expect(to(...list)).toEqual(expected);
  });
});

describe("figures that do not fit", () => {
  test.each([
    [field("hairs: 30, thin: 30, vellus: 30"), []],
    [
      field("hairs: 30, thin: 31"),
      ["error sites[0].fields[0].thin: 31 thin hairs among 30 hairs (all hairs of the field, 3:43)"],
    ],
    [
      field("hairs: 30, thin: 30, vellus: 31"),
      ["error sites[0].fields[0].vellus: 31 vellus hairs among 30 hairs (all hairs of the field, 3:43)"],
    ],
    [
      field("hairs: 30, thin: 5, vellus: 6"),
      ["error sites[0].fields[0].vellus: 6 vellus hairs, though only 5 hairs are thin"],
    ],
    [field("thin: 31, vellus: 31"), []],
    [field("hairs: 30, units: { 1: 20, 2: 5 }"), []],
    [
      field("hairs: 30, units: { 1: 23, 2: 5, 3: 0 }"),
      [
        "warning sites[0].fields[0].units: the units hold 33 hairs (23 x 1 + 5 x 2), and 30 were counted (hairs counted here, 3:43)",
      ],
    ],
    [
      field("hairs: 30, units: { 1: 24, 2: 5 }"),
      [
        "error sites[0].fields[0].units: the units hold 34 hairs (24 x 1 + 5 x 2), and 30 were counted (hairs counted here, 3:43)",
      ],
    ],
    [
      field("hairs: 100, units: { 1: 110 }"),
      [
        "warning sites[0].fields[0].units: the units hold 110 hairs (110 x 1), and 100 were counted (hairs counted here, 3:43)",
      ],
    ],
    [
      field("hairs: 100, units: { 1: 111 }"),
      [
        "error sites[0].fields[0].units: the units hold 111 hairs (111 x 1), and 100 were counted (hairs counted here, 3:43)",
      ],
    ],
    [site("findings: { yellow dots: { count: 200 } }"), []],
    [
      site("findings: { yellow dots: { count: 201 } }"),
      ["warning sites[0].findings.yellow dots: 201 in 1 field are more than a field of view can show"],
    ],
    [
      site("findings: { yellow dots: { count: 401, fields: 2 } }"),
      ["warning sites[0].findings.yellow dots: 401 in 2 fields are more than a field of view can show"],
    ],
    [site("findings: { yellow dots: { count: 8, fields: 9 } }"), []],
    [site("findings: { yellow dots: { count: 10, fields: 10 } }"), []],
    [
      site("findings: { yellow dots: { count: 3, fields: 10 } }"),
      [
        "warning sites[0].findings.yellow dots: 3 in 10 fields: less than one in a field, and more fields than are usually counted -> { count: 10, fields: 3 }",
      ],
    ],
    [site("diameters_um: [60, 1]"), []],
    [
      site("diameters_um: [60, 0.0614]"),
      ["warning sites[0].diameters_um[1]: 0.0614 micrometres is no hair; it looks like millimetres -> 61.4"],
    ],
    [
      "extent: { top: 0.5, back: 1 }",
      ["warning extent.top: 0.5 percent of the top is less than the eye can judge -> 50"],
    ],
    ["extent: { top: 0.5, back: 2 }", []],
    ["extent: { top: 0, back: 1 }", []],
    ["scope: { field_diameter_mm: 0.8 }", []],
    [
      "scope: { field_diameter_mm: 0.79 }",
      ["warning scope.field_diameter_mm: a field of view 0.79 mm across -> 7.9, if centimetres were meant"],
    ],
    ["scope: { field_diameter_mm: 30 }", []],
    ["scope: { field_diameter_mm: 31 }", ["warning scope.field_diameter_mm: a field of view 31 mm across"]],
    ["follow_up: { weeks: 0 }", ["warning follow_up.weeks: a follow-up in 0 weeks is this visit"]],
    ["follow_up: { weeks: 104 }", []],
    ["follow_up: { weeks: 105 }", ["warning follow_up.weeks: 105 weeks until the next visit -> 15"]],
    ["follow_up: { weeks: 106 }", ["warning follow_up.weeks: 106 weeks until the next visit"]],
    ["pull_test: [{ site: vertex, pulled: 150, came_out: 150, anagen: 150 }]", []],
    [
      "pull_test: [{ site: vertex, pulled: 151, came_out: 5 }]",
      ["warning pull_test[0].pulled: 151 hairs in one pull"],
    ],
    [
      "pull_test: [{ site: vertex, pulled: 50, came_out: 51 }]",
      ["error pull_test[0].came_out: 51 hairs came out of 50 pulled"],
    ],
    [
      "pull_test: [{ site: vertex, pulled: 50, came_out: 5, anagen: 6 }]",
      ["error pull_test[0].anagen: 6 anagen hairs among 5 that came out"],
    ],
    [
      "pull_test: [{ site: vertex, pulled: 50, came_out: 5 }, { site: nape, pulled: 50, came_out: 5 }, { site: vertex, pulled: 50, came_out: 5 }]",
      ["warning pull_test[2].site: two pull tests at vertex (first one here, 3:21)"],
    ],
  ])("%s", (rest, expected) => {
    expect(told(rest).map((line) => line.replace(/^(?:error|warning) /u, ""))).toEqual(
      expected.map((line) => line.replace(/^(?:error|warning) /u, "")),
    );
  });
  test("units that hold more hairs than a slip explains are an error", () => {
    const severity = (units: string) =>
      read(field(`hairs: 30, units: { ${units} }`)).problems.find((p) => p.id === "units-more-than-hairs")
        ?.severity;
    expect([severity("1: 33"), severity("1: 34")]).toEqual(["warning", "error"]);
  });
});

describe("tests and photos", () => {
  const tests = (...list: string[]) =>
    told(`tests:\n${list.map((one) => `  - { ${one} }`).join("\n")}`).map((line) =>
      line.replace(/^\w+ /u, ""),
    );
  test.each([
    [["name: RPR, result: negative, date: 2026-03-12"], []],
    [
      ["name: RPR, result: negative, date: 2026-03-13"],
      ["tests[0].date: a test of 2026-03-13, after the visit of 2026-03-12 (date of the visit, 1:25)"],
    ],
    [["name: RPR, result: negative, date: 1990-03-12"], []],
    [
      ["name: RPR, result: negative, date: 1990-03-11"],
      ["tests[0].date: a test of 1990-03-11, before the patient was born (date of birth, 2:54)"],
    ],
    [["name: RPR"], ["tests[0].value: RPR has no result -> result: awaited"]],
    [["name: ferritin, value: 12"], ["tests[0].value: ferritin 12 has no unit"]],
    [["name: RPR, result: a", "name: rpr, result: b"], ["tests[1]: rpr stands twice (first one here, 4:5)"]],
    [
      ["name: RPR, result: a, date: 2026-01-01", "name: RPR, result: b, date: 2026-01-01"],
      ["tests[1]: RPR stands twice for 2026-01-01 (first one here, 4:5)"],
    ],
    [["name: RPR, result: a, date: 2026-01-01", "name: RPR, result: b"], []],
  ])("%j", (list, expected) => {
    expect(tests(...list)).toEqual(expected);
  });
  test.each([
    ["photos: [{ file: a.JPG }, { file: b.jpeg }, { file: c.png }]", []],
    ["photos: [{ file: a.tif }]", ["sites[0].photos[0].file: a.tif is no JPEG or PNG file"]],
    [
      "photos: [{ file: a.jpg }, { file: A.jpg }]",
      ["sites[0].photos[1].file: A.jpg is named twice (first named here, 3:42)"],
    ],
    [
      "photos: [{ file: a.jpg, field: 1 }]",
      ["sites[0].photos[0].field: a photograph of field 1, and no field is counted"],
    ],
    [
      "fields: [{ hairs: 3 }], photos: [{ file: a.jpg, field: 2 }]",
      ["sites[0].photos[0].field: a photograph of field 2, and only 1 are counted"],
    ],
    ["fields: [{ hairs: 3 }], photos: [{ file: a.jpg, field: 1 }]", []],
  ])("%s", (of, expected) => {
    expect(told(site(of)).map((line) => line.replace(/^\w+ /u, ""))).toEqual(expected);
  });
});

describe("impression, plan and signature", () => {
  const AA = "disorder: alopecia areata";
  test.each([
    [
      `impression: [{ ${AA}, certainty: probable }, { ${AA}, certainty: probable }]`,
      ["impression[1].disorder: alopecia areata stands twice (first one here, 3:14)"],
    ],
    [
      `impression: [{ ${AA}, certainty: probable }, { ${AA}, certainty: excluded }]`,
      ["impression[1].disorder: alopecia areata is both probable and excluded (first one here, 3:14)"],
    ],
    [
      "plan: [{ who: gp, action: Test. }, { who: GP, action: test. }]",
      ['plan[1]: "test." stands twice for GP (first one here, 3:8)'],
    ],
    ["plan: [{ who: gp, action: Test. }, { who: clinic, action: Test. }]", []],
  ])("%s", (rest, expected) => {
    expect(told(rest).map((line) => line.replace(/^\w+ /u, ""))).toEqual(expected);
  });
  const ids = (rest: string) =>
    read(rest, { visit: ", status: signed" })
      .problems.map((p) => p.id)
      .filter((id) => /signed|excluded|no-(?:plan|impression)/u.test(id));
  test("signed without them is told so, and with nothing but what is excluded", () => {
    expect(ids("")).toEqual(["signed-without-impression", "signed-without-plan"]);
    expect(ids(`impression: [{ ${AA}, certainty: excluded }]\nplan: [{ who: gp, action: Test. }]`)).toEqual([
      "only-excluded",
    ]);
    expect(
      ids(
        `impression: [{ ${AA}, certainty: excluded }, { disorder: tinea capitis, certainty: possible }]\nplan: [{ who: gp, action: Test. }]`,
      ),
    ).toEqual([]);
  });
});
