/** Audit records <-> CSV (RFC 4180, UTF-8), without loss: every number in full, every word as it was. */
import { parse } from "csv-parse/sync";
import { csvText } from "../base/csv.js";
import type { Outcome, Problem } from "../base/problem.js";
import { RECORD_KINDS, type RecordKind, type VisitRecord } from "./records.js";

const NUMBERS = ["site_number", "value", "low", "high", "n", "fields"] as const;
const COLUMNS = [
  "visit",
  "date",
  "status",
  "seen_by",
  "patient",
  "site_number",
  "site",
  "kind",
  "id",
  "term",
  "state",
  "value",
  "unit",
  "low",
  "high",
  "n",
  "fields",
  "words",
  "source",
] as const satisfies readonly (keyof VisitRecord)[];

type Column = (typeof COLUMNS)[number];

const isNumber = (column: Column): boolean => (NUMBERS as readonly string[]).includes(column);

/** The records as CSV with a header line; lines end with CR LF. */
export function recordsToCsv(records: readonly VisitRecord[]): string {
  return csvText([COLUMNS, ...records.map((record) => COLUMNS.map((column) => record[column]))]);
}

/** The records in the text of such a CSV, or the problems by line. Columns may stand in any order; all must be there. */
export function csvToRecords(text: string, file = "records.csv"): Outcome<VisitRecord[]> {
  const problems: Problem[] = [];
  const report = (line: number, message: string) =>
    problems.push({ severity: "error", id: "record-unreadable", message, file, line, column: 1 });
  let rows: { record: string[]; info: { lines: number } }[];
  try {
    rows = parse(text, { bom: true, info: true, relax_column_count: true }) as unknown as typeof rows;
  } catch {
    report(1, "not readable as a table");
    return { problems };
  }
  const header = rows[0]?.record ?? [];
  const missing = COLUMNS.filter((column) => !header.includes(column));
  if (missing.length > 0) {
    report(1, `columns that are missing: ${missing.join(", ")}`);
    return { problems };
  }
  const records = rows.slice(1).map(({ record, info }) => {
    if (record.length !== header.length)
      report(info.lines, `${record.length} cells under ${header.length} columns`);
    return recordOf(header, record, (message) => report(info.lines, message));
  });
  return problems.length > 0 ? { problems } : { value: records, problems };
}

function recordOf(
  header: readonly string[],
  cells: readonly string[],
  report: (message: string) => void,
): VisitRecord {
  const cell = (column: Column) => cells[header.indexOf(column)] ?? "";
  const text = (column: Column) => (cell(column).startsWith("'") ? cell(column).slice(1) : cell(column));
  const number = (column: Column): number | null => {
    if (cell(column) === "") return null;
    const value = Number(cell(column));
    if (!Number.isFinite(value)) report(`"${cell(column)}" under ${column} is not a number`);
    return value;
  };
  const kind = text("kind");
  if (!isKind(kind)) report(`"${kind}" is not a kind of record`);
  return Object.fromEntries(
    COLUMNS.map((c) => [c, isNumber(c) ? number(c) : text(c)]),
  ) as unknown as VisitRecord;
}

function isKind(word: string): word is RecordKind {
  return (RECORD_KINDS as readonly string[]).includes(word);
}
