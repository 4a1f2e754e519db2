/** Rows -> CSV (RFC 4180, UTF-8; lines end with CR LF) that a spreadsheet opens without taking a cell for a formula. */
import { stringify } from "csv-stringify/sync";

/** A text that a spreadsheet would take for a formula gets an apostrophe before it, and one that has an apostrophe another. */
const FORMULA = /^[=+\-@\t\r']/u;

export type Cell = string | number | null;

export function csvText(rows: readonly (readonly Cell[])[]): string {
  const cells = rows.map((row) =>
    row.map((cell) =>
      cell === null ? "" : typeof cell === "string" && FORMULA.test(cell) ? `'${cell}` : String(cell),
    ),
  );
  return stringify(cells, { record_delimiter: "windows" });
}
