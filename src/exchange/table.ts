/** A CSV export and its mapping -> one visit file for each visit, or each row's problems by row and column. */

import { stringify } from "yaml";
import { nearestWords } from "../base/nearest.js";
import { hasError, type Problem } from "../base/problem.js";
import type { ProblemId } from "../base/problem-table.js";
import type { Knowledge } from "../knowledge/schema.js";
import { visitJsonSchema } from "../visit/json-schema.js";
import { parseVisit } from "../visit/read.js";
import { visitWords } from "../visit/visit-words.js";
import { applyingConstants, buildVisit, type Filled, groupBy } from "./table-build.js";
import { findDateOrder, findDecimal } from "./table-detect.js";
import type { DateOrder, TableMapping } from "./table-mapping.js";
import { openTable } from "./table-open.js";
import { placed } from "./table-problems.js";
import { type FilledRow, fillRow } from "./table-row.js";
import { checkAcrossRows } from "./table-together.js";
import type { RowProblem, TableVisit } from "./table-visit.js";
import type { Sheet } from "./table-workbook.js";

/** How the table was read: what was found out, or stated in the mapping. */
export interface DetectedTable {
  readonly encoding: string;
  /** stated in the mapping, certain from the bytes, or guessed from letters. */
  readonly encodingKnown: "stated" | "certain" | "guessed";
  readonly delimiter: "comma" | "semicolon" | "tab" | "bar" | "sheet";
  readonly decimal: "comma" | "point" | "none seen";
  readonly dates: DateOrder | "none seen";
  /** Rows with something in them, the header not counted. */
  readonly rows: number;
  readonly unusedColumns: readonly string[];
}

export type { RowProblem, TableVisit } from "./table-visit.js";

export interface TableResult {
  readonly rows: readonly TableVisit[];
  readonly detected: DetectedTable;
  /** Problems of the table as a whole; with an error there are no rows. */
  readonly problems: readonly Problem[];
}

/**
 * The visits of a table by its mapping: the bytes of a CSV export, or the cells of a sheet. Encoding, delimiter, decimal sign
 * and order of dates are taken from the mapping or found; what could be read in two ways is an error, never a guess. Nothing
 * is written. Never throws on any bytes.
 */
export function tableToVisits(
  table: Uint8Array | Sheet,
  mapping: TableMapping,
  knowledge: Knowledge,
  name = "table",
): TableResult {
  const wanted = mapping.columns.map((c) => c.column);
  const opened = openTable(table, mapping.read, wanted);
  const { base, firstRow } = opened;
  const problem = (
    severity: Problem["severity"],
    id: ProblemId,
    message: string,
    more: Partial<Problem> = {},
  ): Problem => ({
    severity,
    id,
    message,
    file: name,
    ...more,
  });
  const nothing = (problems: Problem[], unusedColumns: string[] = [], rows = 0): TableResult => ({
    rows: [],
    detected: { ...base, decimal: "none seen", dates: "none seen", rows, unusedColumns },
    problems,
  });
  if ("fault" in opened) {
    const { message, line } = opened.fault;
    return nothing([
      problem("error", "table-syntax", message, line === undefined ? {} : { line, column: 1 }),
    ]);
  }
  const { cells } = opened;
  const header = (cells[0] ?? []).map((cell) => cell.trim());
  const body = cells
    .slice(1)
    .map((row, i) => ({ row: firstRow + i + 1, cells: row.map((c) => c.trim()) }))
    .filter((row) => row.cells.some((c) => c !== ""));
  const problems = headerProblems(header, mapping, problem);
  const unused = header.filter((h) => h !== "" && !wanted.includes(h) && !mapping.ignore.includes(h));
  if (unused.length > 0)
    problems.push(
      problem("note", "columns-unused", `columns that the mapping does not use: ${unused.join(", ")}`),
    );
  if (body.length === 0) problems.push(problem("error", "table-empty", "no rows below the header"));
  if (base.encodingKnown === "guessed") problems.push(guessed(base.encoding, body, problem));
  const cellsOfKind = (kind: string) =>
    mapping.columns
      .filter((c) => c.kind === kind)
      .flatMap((c) => body.map((row) => row.cells[header.indexOf(c.column)] ?? ""))
      .filter((cell) => cell !== "");
  const stated = mapping.read.decimal ?? opened.decimal;
  const decimal = stated ? { sign: stated } : findDecimal(cellsOfKind("number"));
  const dates = mapping.read.dates ? { order: mapping.read.dates } : findDateOrder(cellsOfKind("date"));
  if ("unclear" in decimal && decimal.unclear !== undefined)
    problems.push(
      problem(
        "error",
        "decimal-unclear",
        `"${decimal.unclear}" may be read with a decimal comma or a point`,
        {
          expected: "decimal: comma or decimal: point under read: of the mapping",
        },
      ),
    );
  if ("unclear" in dates && dates.unclear !== undefined)
    problems.push(
      problem(
        "error",
        "dates-unclear",
        `"${dates.unclear}" may have the day or the month first, and no other date decides`,
        {
          expected: "dates: day-month-year or dates: month-day-year under read: of the mapping",
        },
      ),
    );
  if (hasError(problems)) return nothing(problems, unused, body.length);
  const { regions } = visitWords(knowledge);
  const how = { header, mapping, regions, decimal: decimal.sign, dates: dates.order };
  const filled = body.map((row) => fillRow(row.row, row.cells, how));
  const rows = checkAcrossRows(
    visitsOf(filled, mapping).map((group) => visitOf(group, mapping, knowledge, name)),
  );
  const detected: DetectedTable = {
    ...base,
    decimal: decimal.sign ?? "none seen",
    dates: dates.order ?? "none seen",
    rows: body.length,
    unusedColumns: unused,
  };
  return { rows, detected, problems };
}

type MakeProblem = (
  severity: Problem["severity"],
  id: ProblemId,
  message: string,
  more?: Partial<Problem>,
) => Problem;

function headerProblems(header: readonly string[], mapping: TableMapping, problem: MakeProblem): Problem[] {
  return mapping.columns.flatMap(({ column }) => {
    const count = header.filter((h) => h === column).length;
    if (count === 1) return [];
    if (count > 1)
      return [problem("error", "column-twice", `the column "${column}" stands in the header ${count} times`)];
    const suggestion = nearestWords(column, header)[0];
    return [
      problem("error", "column-missing", `no column "${column}", which the mapping names`, {
        expected: header.filter(Boolean).join(", "),
        ...(suggestion === undefined ? {} : { suggestion }),
      }),
    ];
  });
}

/** A guessed encoding is shown by the words it concerns, so that a wrong letter in a name is seen before it is printed. */
function guessed(
  encoding: string,
  body: readonly { cells: readonly string[] }[],
  problem: MakeProblem,
): Problem {
  const words = new Set(
    body.flatMap((row) => row.cells.flatMap((c) => c.split(/\s+/u).filter((w) => /[^\p{ASCII}]/u.test(w)))),
  );
  const shown = [...words].slice(0, 6).join(", ");
  return problem(
    "warning",
    "encoding-guessed",
    `read as ${encoding} by guess; look whether these words are right: ${shown}`,
    {
      expected: "encoding: under read: of the mapping, to be sure",
    },
  );
}

/** The rows of each visit: several only where the mapping speaks of the row's own site. */
function visitsOf(rows: readonly FilledRow[], mapping: TableMapping): FilledRow[][] {
  const manyRows = mapping.columns.some((c) => c.ofRow);
  if (!manyRows) return rows.map((row) => [row]);
  const groups = groupBy(rows, (row) => row.visitId ?? `row ${row.row}`);
  return [...groups.values()];
}

function visitOf(
  rows: readonly FilledRow[],
  mapping: TableMapping,
  knowledge: Knowledge,
  name: string,
): TableVisit {
  const [first] = rows;
  const row = first?.row ?? 0;
  const problems: RowProblem[] = rows.flatMap((r) => r.problems.map((p) => ({ ...p, file: name })));
  const { filled, clashes } = together(rows);
  problems.push(...clashes.map((p) => ({ ...p, file: name })));
  const all = [...filled, ...applyingConstants(mapping.constants, mapping.columns, filled)];
  const built = buildVisit(all, visitJsonSchema(knowledge));
  const text = stringify({ format: 1, ...built.value }, { lineWidth: 0, flowCollectionPadding: true });
  const { value, problems: found } = parseVisit(text, name, knowledge);
  problems.push(...found.map((p) => placed(p, row, built, mapping, name)));
  if (!value || hasError(problems)) return { row, problems };
  const rowsSaid = rows.length > 1 ? `rows ${rows.map((r) => r.row).join(", ")}` : `row ${row}`;
  const visitText = `# From ${rowsSaid} of ${name.replace(/[\r\n]/gu, " ")}.\n${text}`;
  return { row, visitText, visit: value, file: `${value.patient.id}/${value.id}.yaml`, problems };
}

/** Rows of one visit may repeat a value; two different values for one place are a problem. */
function together(rows: readonly FilledRow[]): { filled: Filled[]; clashes: RowProblem[] } {
  const filled = new Map<string, Filled>();
  const clashes: RowProblem[] = [];
  for (const row of rows) {
    for (const [place, entry] of row.filled) {
      const before = filled.get(place);
      if (!before) filled.set(place, entry);
      else if (JSON.stringify(before.value) !== JSON.stringify(entry.value))
        clashes.push({
          severity: "error",
          id: "rows-disagree",
          message: `"${String(entry.value)}" here, "${String(before.value)}" in row ${before.row}, for the same visit`,
          row: row.row,
          ...(entry.column === undefined ? {} : { tableColumn: entry.column }),
        });
    }
  }
  return { filled: [...filled.values()], clashes };
}
