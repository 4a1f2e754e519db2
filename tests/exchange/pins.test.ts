/** Figures that leave the house, each in its place: numerators, site numbers, rows, orders of dates, gaps between disorders. */
import { describe, expect, test } from "vitest";
import { lookFor, toFhir, visitRecords } from "../../src/exchange/exchange.js";
import {
  findDateOrder,
  findDecimal,
  findDelimiter,
  isoDate,
  plainNumber,
} from "../../src/exchange/table-detect.js";
import { openTable } from "../../src/exchange/table-open.js";
import type { Disorder, EvidenceRow } from "../../src/knowledge/schema.js";
import type { Visit } from "../../src/visit/visit.js";
import { testKnowledge } from "../visit/test-knowledge.js";
import { clinic, examples, knowledge } from "./examples.js";

const [example] = examples;
if (!example) throw new Error("no examples");

test("a count is told as structures in fields", () => {
  const visit: Visit = {
    ...example.visit,
    sites: [
      {
        site: "vertex",
        findings: [
          {
            finding: "black-dots",
            seen: { state: "present", amount: "several", count: { count: 14, fields: 2 } },
          },
        ],
        fields: [],
        diametersUm: [],
        photos: [],
      },
    ],
  };
  const bundle = toFhir({
    visit,
    clinic,
    measures: example.measures,
    knowledge,
    assembled: "2026-03-12T15:00:00Z",
  });
  const site = bundle.entry
    .map((e) => e.resource)
    .find((r) => (JSON.stringify(r.code) ?? "").includes("Dermoscopy findings"));
  const [component] = (site?.component ?? []) as { valueRatio: { numerator: object; denominator: object } }[];
  expect(component?.valueRatio.numerator).toMatchObject({ value: 14, unit: "structures" });
  expect(component?.valueRatio.denominator).toMatchObject({ value: 2, unit: "fields of view" });
});

test("a measure names its site by the number the letter prints, from 1", () => {
  const records = visitRecords(example.visit, example.measures, knowledge).filter(
    (r) => r.kind === "measure",
  );
  const expected = example.measures.measured.map((m) => (m.siteIndex === undefined ? null : m.siteIndex + 1));
  expect(records.map((r) => r.site_number)).toEqual(expected);
  expect(expected).toContain(1);
});

describe("a table", () => {
  const open = (text: string) => openTable(new TextEncoder().encode(text), {}, ["a", "b"]);
  test("counts rows as a spreadsheet does, the line sep= among them", () => {
    expect(open("a,b\n1,2").firstRow).toBe(1);
    expect(open("sep=;\na;b\n1;2")).toMatchObject({
      firstRow: 2,
      cells: [
        ["a", "b"],
        ["1", "2"],
      ],
    });
    expect(open("sep=;\na;b").base.delimiter).toBe("semicolon");
  });
  test("is cut where its columns are found", () => {
    expect(findDelimiter("a;b,c\n1;2", ["a", "b,c"])).toBe(";");
    expect(findDelimiter("a\tb\n1\t2", ["a", "b"])).toBe("\t");
  });
  test.each([
    [["03.04.2026"], { order: "day-month-year" }],
    [["13/04/2026"], { order: "day-month-year" }],
    [["12/04/2026", "04/13/2026"], { order: "month-day-year" }],
    [["12/04/2026"], { unclear: "12/04/2026" }],
    [["2026-04-12"], { order: "year-month-day" }],
    [["soon"], {}],
    [["13/04/2026", "04/13/2026", "01/02/2026"], { unclear: "01/02/2026" }],
  ] as const)("dates %j", (cells, expected) => {
    expect(findDateOrder(cells)).toEqual(expected);
  });
  test.each([
    [["1,5", "2"], { sign: "comma" }],
    [["1.5", "1,234.5"], { sign: "point" }],
    [["1,234"], { unclear: "1,234" }],
    [["1,5", "1.5"], { unclear: "1,5" }],
    [["12"], {}],
    [["0,123"], { sign: "comma" }],
    // Codes and amounts with words are no numbers.
    [["A1.5", "1,5"], { sign: "comma" }],
    [["1.5 mm"], {}],
    [["B1,5", "1.5"], { sign: "point" }],
  ] as const)("decimals %j", (cells, expected) => {
    expect(findDecimal(cells)).toEqual(expected);
  });
  test("numbers and dates as the visit file has them", () => {
    expect(plainNumber("1.234,5", "comma")).toBe("1234.5");
    expect(plainNumber("1,234.5", "point")).toBe("1234.5");
    expect(plainNumber("1.5", "comma")).toBeUndefined();
    expect(plainNumber("about 3", "comma")).toBe("about 3");
    expect(plainNumber("A1,5", "comma")).toBe("A1,5");
    expect(plainNumber("1,5", undefined)).toBe("1,5");
    expect(plainNumber("1.234", "comma")).toBe("1234");
    expect(plainNumber("0.234", "comma")).toBeUndefined();
    expect(isoDate("3.4.2026", "day-month-year")).toBe("2026-04-03");
    expect(isoDate("3/4/2026", "month-day-year")).toBe("2026-03-04");
    expect(isoDate("3 April 2026", undefined)).toBe("2026-04-03");
    expect(isoDate("2026/4/3", undefined)).toBe("2026-04-03");
    expect(isoDate("3/4/2026", undefined)).toBe("3/4/2026");
  });
});

describe("what to look for", () => {
  const percent = (value: number): EvidenceRow[] => [
    { percent: value, source: "common practice", how: "memory" } as EvidenceRow,
  ];
  const base = testKnowledge.disorders["alopecia-areata"] as Disorder;
  const suspected: Disorder = {
    ...base,
    evidence: { "black-dots": percent(60), "yellow-dots": percent(10), "broken-hairs": percent(9) },
    mimics: [{ disorder: "tinea-capitis", tell: "Scale.", source: "common practice" }],
  };
  const mimic: Disorder = {
    ...(testKnowledge.disorders["tinea-capitis"] as Disorder),
    // Broken hairs are common in both and tell little; comma hairs lie just far enough apart, coiled hairs just not.
    evidence: {
      "black-dots": percent(65),
      "comma-hairs": percent(15),
      "coiled-hairs": percent(14),
      "broken-hairs": percent(20),
    },
  };
  const small = {
    ...testKnowledge,
    disorders: { ...testKnowledge.disorders, "alopecia-areata": suspected, "tinea-capitis": mimic },
  };
  test("a range counts as its middle, and a count as its share, also beside a percentage", () => {
    const row = (figure: Partial<EvidenceRow>): EvidenceRow[] => [
      { ...figure, source: "common practice", how: "memory" } as EvidenceRow,
    ];
    const found = (range: [number, number]) =>
      lookFor(
        {
          ...suspected,
          mimics: [],
          evidence: {
            "black-dots": percent(41),
            "yellow-dots": row({ range }),
            "broken-hairs": row({ positive: 39, of: 100 }),
          },
        },
        testKnowledge,
      )[0]?.findings;
    expect(found([20, 60])).toEqual(["black-dots", "yellow-dots", "broken-hairs"]);
    expect(found([24, 60])).toEqual(["yellow-dots", "black-dots", "broken-hairs"]);
    expect(found([16, 60])).toEqual(["black-dots", "broken-hairs", "yellow-dots"]);
    // Seen in fewer than a tenth, a finding is left to the clinician's own eye.
    expect(found([5, 15])).toContain("yellow-dots");
    expect(found([5, 14])).not.toContain("yellow-dots");
  });

  test("its own findings by how common they are, then those that part it from a mimic by the gap between them", () => {
    expect(lookFor(suspected, small)).toEqual([
      { heading: "alopecia areata", why: "", findings: ["black-dots", "yellow-dots"] },
      { heading: "tinea capitis", why: "Scale.", findings: ["comma-hairs"] },
    ]);
  });
});
