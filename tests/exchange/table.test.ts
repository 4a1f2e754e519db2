import { readFileSync } from "node:fs";
import { join } from "node:path";
import iconv from "iconv-lite";
import { describe, expect, it } from "vitest";
import { readMapping, type TableMapping, tableToVisits } from "../../src/exchange/exchange.js";
import { parseVisit } from "../../src/visit/read.js";
import { root } from "../house/source-files.js";
import { knowledge } from "./examples.js";

const tables = join(root, "examples", "tables");
const mappingFrom = (text: string): TableMapping => {
  const { value, problems } = readMapping(text, "mapping.yaml", knowledge);
  if (!value) throw new Error(problems.map((p) => p.message).join("\n"));
  return value;
};

const small = `
format: 1
columns:
  No: visit.id
  Day: visit.date
  Patient: patient.id
  Family: patient.name.family
  Born: patient.born
  Dots: { to: "sites[vertex].findings.yellow dots", values: { "0": none, "+": few } }
  Length: sites[vertex].patch.length_mm
  Width: sites[vertex].patch.width_mm
  Doctor: send_to[0].name
constants:
  visit.seen_by: anneli-thorsby
  visit.reason: Patch at the crown.
  patient.sex: female
  send_to[0].role: general practitioner
  send_to[0].address: [1 Fish Street]
`;
const header = "No,Day,Patient,Family,Born,Dots,Length,Width,Doctor";
const row = (
  cells: Partial<
    Record<"no" | "day" | "patient" | "family" | "born" | "dots" | "length" | "width" | "doctor", string>
  > = {},
) =>
  [
    cells.no ?? "V-1",
    cells.day ?? "2026-03-12",
    cells.patient ?? "P-1",
    cells.family ?? "Lind",
    cells.born ?? "1990-03-02",
    cells.dots ?? "+",
    cells.length ?? "",
    cells.width ?? "",
    cells.doctor ?? "Dr Ilse Brandt",
  ].join(",");
const table = (lines: readonly string[], mapping = small) =>
  tableToVisits(Buffer.from([header, ...lines].join("\r\n")), mappingFrom(mapping), knowledge, "t.csv");

describe("the example table", () => {
  const mapping = mappingFrom(readFileSync(join(tables, "mapping.yaml"), "utf8"));
  const bytes = readFileSync(join(tables, "findings-export.csv"));
  const result = tableToVisits(bytes, mapping, knowledge, "findings-export.csv");

  it("is read as it was written: Windows letters, semicolons, decimal comma, day first", () => {
    expect(result.detected).toMatchObject({
      encoding: "windows-1252",
      encodingKnown: "guessed",
      delimiter: "semicolon",
      decimal: "comma",
      dates: "day-month-year",
      rows: 4,
      unusedColumns: [],
    });
    const guessed = result.problems.find((p) => p.id === "encoding-guessed");
    expect(guessed?.message).toContain("Øyvind");
  });

  it("makes one visit of the rows of each visit, every cell in its place", () => {
    expect(result.rows.map((r) => [r.row, r.file])).toEqual([
      [2, "TS-42010/TS-2026-0702.yaml"],
      [4, "TS-42033/TS-2026-0703.yaml"],
      [5, "TS-42051/TS-2026-0704.yaml"],
    ]);
    const [first, , third] = result.rows;
    expect(first?.visit).toMatchObject({
      date: "2026-11-17",
      seenBy: "anneli-thorsby",
      patient: { name: { given: "Øyvind", family: "Strömqvist-Obi" }, born: "1979-04-23", sex: "male" },
      sendTo: [
        { name: "Dr Ilse Brandt", address: ["Quayside Practice", "1 Fish Street", "Tarn Sound", "TS1 1AA"] },
      ],
      tests: [{ name: "ferritin", value: 64.5, unit: "ug/L", date: "2026-11-10" }],
    });
    expect(first?.visit?.sites.map((s) => [s.site, s.patch?.lengthMm])).toEqual([
      ["occipital", 18.5],
      ["vertex", undefined],
    ]);
    const dots = first?.visit?.sites[0]?.findings.find((f) => f.finding === "black-dots");
    expect(dots?.seen).toEqual({ state: "present", amount: "several", count: { count: 6, fields: 1 } });
    expect(third?.visit?.reason).toBe("Second opinion on a scaly patch \u2013 \u201cstill itching\u201d.");
    expect(third?.visit?.tests).toEqual([]);
    expect(third?.visit?.history.medicines).toEqual([
      { name: "cetirizine" },
      { name: "ketoconazole shampoo" },
    ]);
  });

  it("gives text that reads as the same visit", () => {
    for (const { visit, visitText } of result.rows)
      expect(parseVisit(visitText ?? "", "made.yaml", knowledge).value).toEqual(visit);
  });

  it.each(["UTF-8", "UTF-16LE", "UTF-16BE"])("says the same in %s, with and without its mark", (encoding) => {
    const text = iconv.decode(bytes, "windows-1252").split("\r\n").slice(0, 3).join("\r\n");
    for (const addBOM of [true, false]) {
      const other = tableToVisits(
        iconv.encode(text, encoding, { addBOM }),
        mapping,
        knowledge,
        "findings-export.csv",
      );
      expect(other.detected).toMatchObject({ encoding, encodingKnown: "certain", delimiter: "semicolon" });
      expect(other.rows).toEqual(result.rows.slice(0, 1));
    }
  });

  it("takes a stated encoding without a word of doubt", () => {
    const stated = { ...mapping, read: { ...mapping.read, encoding: "windows-1252" } };
    const { detected, problems } = tableToVisits(bytes, stated, knowledge);
    expect(detected.encodingKnown).toBe("stated");
    expect(problems).toEqual([]);
  });

  it.each([
    [",", "comma"],
    ["\t", "tab"],
    ["|", "bar"],
  ])("finds the delimiter %j", (sign, delimiter) => {
    const lines = [header, row()].map((line) => line.replaceAll(",", sign)).join("\n");
    const read = tableToVisits(Buffer.from(lines), mappingFrom(small), knowledge);
    expect(read.detected.delimiter).toBe(delimiter);
    expect(read.rows[0]?.visit?.id).toBe("V-1");
  });
});

describe("a cell", () => {
  it("left empty is not assessed; a mapped 0 was looked for and not seen", () => {
    const { rows } = table([row({ dots: "" }), row({ no: "V-2", patient: "P-2", dots: "0" })]);
    expect(rows.map((r) => r.visit?.sites.flatMap((s) => s.findings))).toEqual([
      [],
      [{ finding: "yellow-dots", seen: { state: "absent" } }],
    ]);
  });

  it.each([
    ["family", { family: "" }, "Family", "missing-key"],
    ["born", { born: "1990-02-30" }, "Born", "no-such-day"],
    ["dots", { dots: "orange" }, "Dots", "unknown-word"],
    ["length", { length: "long", width: "3" }, "Length", "not-a-number"],
    ["id", { no: "a/b" }, "No", "bad-id"],
  ])("at fault is named by row and column: %s", (_what, cells, column, id) => {
    const { rows } = table([row({ no: "V-0", patient: "P-0" }), row(cells)]);
    expect(rows[0]?.problems.filter((p) => p.severity === "error")).toEqual([]);
    const errors = rows[1]?.problems.filter((p) => p.severity === "error") ?? [];
    expect(errors.map((p) => [p.row, p.tableColumn, p.id])).toContainEqual([3, column, id]);
    expect(rows[1]?.visitText).toBeUndefined();
  });

  it("makes no recipient out of constants alone", () => {
    const { rows } = table([row({ doctor: "" })]);
    expect(rows[0]?.visit?.sendTo).toEqual([]);
  });

  it("beyond the header is a problem of the row", () => {
    const { rows } = table([`${row()},stray`]);
    expect(rows[0]?.problems.map((p) => p.id)).toContain("row-too-long");
    expect(rows[0]?.visitText).toBeUndefined();
  });
});

describe("what could be read in two ways", () => {
  it("is asked for when no date decides between day and month", () => {
    const lines = [row({ day: "03/04/2026" })];
    const { rows, problems } = table(lines);
    expect(rows).toEqual([]);
    expect(problems.map((p) => p.id)).toContain("dates-unclear");
    const stated = table(lines, `${small}read: { dates: month-day-year }\n`);
    expect(stated.rows[0]?.visit?.date).toBe("2026-03-04");
  });

  it("is settled by one date that fits one way only, and never against another", () => {
    const one = table([row({ day: "03/04/2026" }), row({ no: "V-2", patient: "P-2", day: "25/04/2026" })]);
    expect(one.detected.dates).toBe("day-month-year");
    expect(one.rows.map((r) => r.visit?.date)).toEqual(["2026-04-03", "2026-04-25"]);
    const both = table([row({ day: "04/25/2026" }), row({ no: "V-2", patient: "P-2", day: "25/04/2026" })]);
    expect(both.problems.map((p) => p.id)).toContain("dates-unclear");
  });

  it("is asked for when 1.234 may be a thousand", () => {
    const { problems } = table([row({ length: "1.234", width: "2" })]);
    expect(problems.map((p) => p.id)).toContain("decimal-unclear");
  });

  it("is a problem of the cell when one number has the other decimal sign than stated", () => {
    const lines = [row({ length: "12.5", width: "10" })];
    const { rows } = table(lines, `${small}read: { decimal: comma }\n`);
    expect(rows[0]?.problems.map((p) => [p.id, p.tableColumn])).toContainEqual(["decimal-mixed", "Length"]);
    expect(table(lines).rows[0]?.visit?.sites[0]?.patch?.lengthMm).toBe(12.5);
  });

  it("is a named month, which needs no order", () => {
    expect(table([row({ day: "4 March 2026" })]).rows[0]?.visit?.date).toBe("2026-03-04");
  });
});

describe("rows together", () => {
  it("never mix two people under one number", () => {
    const { rows } = table([row(), row({ no: "V-2", born: "1991-03-02" })]);
    expect(rows.map((r) => r.visitText !== undefined)).toEqual([true, false]);
    expect(rows[1]?.problems.map((p) => p.id)).toContain("patient-mixed");
  });

  it("hold each visit once", () => {
    const { rows } = table([row(), row({ family: "Berg", patient: "P-2" })]);
    expect(rows[1]?.problems.map((p) => p.id)).toContain("visit-twice");
  });

  it("of one visit must not contradict each other", () => {
    const bySite = small
      .replace('"sites[vertex].findings.yellow dots"', "site.findings.yellow dots")
      .replace("sites[vertex].patch.length_mm", "site.patch.length_mm")
      .replace("Width: sites[vertex].patch.width_mm", "Width: site");
    const { rows } = table([row({ width: "vertex" }), row({ width: "nape", family: "Berg" })], bySite);
    expect(rows).toHaveLength(1);
    expect(rows[0]?.problems.map((p) => [p.id, p.row, p.tableColumn])).toContainEqual([
      "rows-disagree",
      3,
      "Family",
    ]);
    const odd = table([row({ width: "elbow" })], bySite);
    expect(odd.rows[0]?.problems.map((p) => [p.id, p.tableColumn])).toContainEqual(["unknown-word", "Width"]);
  });
});

describe("a table that cannot be used", () => {
  it("says which column is missing, with the nearest", () => {
    const { rows, problems } = tableToVisits(
      Buffer.from(header.replace("Born", "Borne")),
      mappingFrom(small),
      knowledge,
    );
    expect(rows).toEqual([]);
    expect(problems.find((p) => p.id === "column-missing")).toMatchObject({ suggestion: "Borne" });
    expect(problems.map((p) => p.id)).toContain("table-empty");
  });

  it("says where its text breaks, and that nothing more was seen of it", () => {
    expect(tableToVisits(Buffer.from('No,Day\n"open'), mappingFrom(small), knowledge, "t.csv")).toEqual({
      rows: [],
      detected: {
        encoding: "UTF-8",
        encodingKnown: "certain",
        delimiter: "comma",
        decimal: "none seen",
        dates: "none seen",
        rows: 0,
        unusedColumns: [],
      },
      problems: [
        {
          severity: "error",
          id: "table-syntax",
          message: "a quotation mark that opens or closes nothing",
          file: "t.csv",
          line: 2,
          column: 1,
        },
      ],
    });
  });

  it("is never a throw, whatever the bytes", () => {
    const mapping = mappingFrom(small);
    for (const bytes of [
      [],
      [0],
      [0xff, 0xfe],
      [0x22],
      [0xff, 0x00, 0x80],
      [...Buffer.from(`${header}\n"open`)],
    ])
      expect(tableToVisits(Uint8Array.from(bytes), mapping, knowledge).rows).toEqual([]);
  });
});

describe("a mapping", () => {
  it.each([
    ["visit.dat", "unknown-place"],
    ["sites[elbow].findings.yellow dots", "unknown-place"],
    ["sites[vertex].findings.yelow dots", "unknown-place"],
    ["patient.name", "place-too-wide"],
    ["patient.id", "place-twice"],
    ["visit..id", "unknown-place"],
  ])("that names %s is refused with its line", (place, id) => {
    const { value, problems } = readMapping(
      small.replace("Day: visit.date", `Day: "${place}"`),
      "m.yaml",
      knowledge,
    );
    expect(value).toBeUndefined();
    expect(problems.map((p) => p.id)).toContain(id);
    expect(problems[0]?.line).toBeGreaterThan(3);
  });

  it("with an unknown key or encoding is refused", () => {
    expect(readMapping(`${small}colums: {}\n`, "m.yaml", knowledge).problems.map((p) => p.id)).toEqual([
      "unknown-key",
    ]);
    const twice = readMapping(`${small}colums: {}\nformat: 1\n`, "m.yaml", knowledge).problems;
    expect(twice.map((p) => p.id)).toEqual(["duplicate-key", "unknown-key"]);
    expect(
      readMapping(`${small}read: { encoding: klingon }\n`, "m.yaml", knowledge).problems.map((p) => p.id),
    ).toEqual(["unknown-encoding"]);
  });
});
