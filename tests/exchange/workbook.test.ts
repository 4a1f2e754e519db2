/** Workbooks as tables: the cells of a sheet become visits as those of an export do; what is no sheet is said. */
import { describe, expect, test } from "vitest";
import {
  isWorkbook,
  openWorkbook,
  readMapping,
  type Sheet,
  tableToVisits,
} from "../../src/exchange/exchange.js";
import { mappingDraft } from "../../src/exchange/mapping-draft.js";
import { knowledge } from "./examples.js";
import { workbook } from "./workbook.js";

const day = (iso: string) => new Date(`${iso}T00:00:00Z`);
const HEADER = [
  "Visit no.",
  "Date",
  "Patient no.",
  "Surname",
  "DOB",
  "Sex",
  "Region",
  "Yellow dots",
  "Black dots (count)",
  "Length mm",
  "Room",
];
const ROWS = [
  ["V-1", day("2026-03-12"), "P-1", "Lind & Søn", day("1990-03-02"), "f", "vertex", "few", 3, 30.5, 7],
  ["V-2", day("2026-03-13"), "P-2", "Okafor", "1985-11-30", "M", "nape", "+", "n/a", null, 7],
];

async function sheetOf(sheets: Parameters<typeof workbook>[0], name?: string): Promise<Sheet> {
  const opened = await openWorkbook(await workbook(sheets), name);
  if ("fault" in opened) throw new Error(opened.fault);
  return opened.sheet;
}

describe("a workbook", () => {
  test("is known by its bytes", async () => {
    expect(isWorkbook(await workbook({ A: [] }))).toBe(true);
    expect(isWorkbook(new Uint8Array([0xd0, 0xcf, 0x11, 0xe0]))).toBe(true);
    expect(isWorkbook(new TextEncoder().encode("PK,Date\n1,2"))).toBe(false);
  });

  test("gives days as year-month-day, moments with their time, figures with a point", async () => {
    const sheet = await sheetOf({
      Register: [["a", day("2026-03-12"), new Date("2026-03-12T14:30:00Z"), 30.5, 7, true, null, "0141"]],
      Notes: [["x"]],
    });
    expect(sheet).toEqual({
      name: "Register",
      cells: [["a", "2026-03-12", "2026-03-12T14:30:00", "30.5", "7", "true", "", "0141"]],
      others: ["Notes"],
    });
  });

  test("gives the sheet that is named, or says which there are", async () => {
    const bytes = await workbook({ Register: [["a"]], Notes: [["b"]] });
    expect(await openWorkbook(bytes, "Notes")).toMatchObject({ sheet: { name: "Notes", cells: [["b"]] } });
    expect(await openWorkbook(bytes, "notes")).toEqual({
      fault: 'no sheet "notes"; there is Register, Notes',
    });
  });

  test("that is old, or no workbook, is refused in words", async () => {
    expect(await openWorkbook(new Uint8Array([0xd0, 0xcf, 0x11, 0xe0, 0]))).toEqual({
      fault: "an old workbook (.xls); save it as .xlsx or as CSV",
    });
    expect(await openWorkbook(new Uint8Array([0x50, 0x4b, 3, 4, 9, 9]))).toEqual({
      fault: "this is no workbook that can be read; save it as .xlsx or as CSV",
    });
  });
});

describe("a drafted mapping", () => {
  test("places what it knows, turns cells into words, and leaves the rest to be placed", async () => {
    const draft = mappingDraft(await sheetOf({ R: [HEADER, ...ROWS] }), "register.xlsx", knowledge);
    if ("fault" in draft) throw new Error(draft.fault);
    expect(draft.text.split("\n").slice(2)).toEqual([
      "format: 1",
      "columns:",
      "  Visit no.: visit.id",
      "  Date: visit.date",
      "  Patient no.: patient.id",
      "  Surname: patient.name.family",
      "  DOB: patient.born",
      "  Sex: {to: patient.sex, values: {f: female, M: male}}",
      "  Region: site",
      "  Yellow dots: site.findings.yellow dots",
      "    # give these a meaning under values: +",
      "  Black dots (count): site.findings.black dots.count",
      "  Length mm: site.patch.length_mm",
      '  # Room: not placed; holds "7"',
      "constants:",
      "  visit.status: draft",
      "  # visit.seen_by: needed, and no column fills it (Key of a person in the clinic file.)",
      'empty: [n/a, "-"]',
      "",
    ]);
  });

  test("can be used as it is once the rest is filled in", async () => {
    const sheet = await sheetOf({ R: [HEADER, ...ROWS] });
    const draft = mappingDraft(sheet, "register.xlsx", knowledge);
    if ("fault" in draft) throw new Error(draft.fault);
    const text = draft.text
      .replace(
        "Yellow dots: site.findings.yellow dots",
        "Yellow dots: { to: site.findings.yellow dots, values: { +: few } }",
      )
      .replace(
        "  # visit.seen_by: needed",
        "  visit.seen_by: anneli-thorsby\n  site.findings.black dots.fields: '1'\n  site.patch.width_mm: '20'\n  # ",
      );
    const { value: mapping, problems } = readMapping(text, "mapping.yaml", knowledge);
    expect(problems).toEqual([]);
    if (!mapping) return;
    const { rows, detected } = tableToVisits(sheet, mapping, knowledge, "register.xlsx");
    expect(detected).toMatchObject({ encoding: "workbook", delimiter: "sheet", decimal: "point", rows: 2 });
    expect(rows.map((r) => [r.row, r.file, r.visit?.patient.name.family, r.visit?.patient.born])).toEqual([
      [2, "P-1/V-1.yaml", "Lind & Søn", "1990-03-02"],
      [3, "P-2/V-2.yaml", "Okafor", "1985-11-30"],
    ]);
    expect(rows[0]?.visit?.sites[0]?.patch).toEqual({ lengthMm: 30.5, widthMm: 20 });
  });

  test("passes over columns without a name", () => {
    const draft = mappingDraft(
      new TextEncoder().encode("Visit,,Gulls\nV-1,x,3\nV-2,y,-"),
      "t.csv",
      knowledge,
    );
    if ("fault" in draft) throw new Error(draft.fault);
    const lines = draft.text.split("\n");
    expect(lines.slice(lines.indexOf("columns:"), lines.indexOf("constants:"))).toEqual([
      "columns:",
      "  # Visit: not placed; holds V-1, V-2",
      '  # Gulls: not placed; holds "3"',
    ]);
  });

  test("asks for no meaning of a decimal comma, only of what is no number", () => {
    const draft = mappingDraft(
      new TextEncoder().encode("Visit no.;Region;Length mm\nV-1;vertex;12,5\nV-2;nape;1,2,3\nV-3;nape;7.5"),
      "t.csv",
      knowledge,
    );
    if ("fault" in draft) throw new Error(draft.fault);
    const lines = draft.text.split("\n");
    expect(lines.slice(lines.indexOf("columns:"), lines.indexOf("constants:"))).toEqual([
      "columns:",
      "  Visit no.: visit.id",
      "  Region: site",
      "  Length mm: site.patch.length_mm",
      '    # give these a meaning under values: "1,2,3"',
    ]);
  });

  test("says why there is none", async () => {
    expect(mappingDraft(await sheetOf({ R: [[null, null], ["a"]] }), "x", knowledge)).toEqual({
      fault: "the first row names no columns",
    });
    expect(mappingDraft(new TextEncoder().encode('a,b\n"c'), "x", knowledge)).toMatchObject({
      fault: expect.stringContaining("quotation mark"),
    });
  });
});
