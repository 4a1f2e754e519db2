/** What a table does not say of itself: its delimiter, decimal sign and order of dates, found from its cells or asked for. */
import { type CsvError, parse } from "csv-parse/sync";
import type { DateOrder } from "./table-mapping.js";

export const DELIMITERS = { ",": "comma", ";": "semicolon", "\t": "tab", "|": "bar" } as const;
export type Delimiter = keyof typeof DELIMITERS;

/** Cells of a table, the header first. Throws csv-parse's error on quotes that do not match. */
export function cellsOf(text: string, delimiter: Delimiter): string[][] {
  return parse(text, { delimiter, relax_column_count: true, skip_empty_lines: false, bom: true });
}

/** In words why the cells cannot be read, with the line of the file. */
export function whyNoCells(error: unknown): { message: string; line?: number } {
  const { code, lines } = error as CsvError;
  const quotes =
    code === "CSV_QUOTE_NOT_CLOSED" ||
    code === "INVALID_OPENING_QUOTE" ||
    code === "CSV_INVALID_CLOSING_QUOTE";
  const message = quotes ? "a quotation mark that opens or closes nothing" : "not readable as a table";
  return { message, ...(typeof lines === "number" ? { line: lines } : {}) };
}

/** The delimiter whose header row shows the most of the `wanted` columns, then the most columns. */
export function findDelimiter(text: string, wanted: readonly string[]): Delimiter {
  const end = /\r\n|\r|\n/u.exec(text)?.index ?? text.length;
  const head = text.slice(0, end);
  const scores = (Object.keys(DELIMITERS) as Delimiter[]).map((delimiter) => {
    const header = firstRow(head, delimiter);
    return {
      delimiter,
      known: wanted.filter((name) => header.includes(name)).length,
      columns: header.length,
    };
  });
  const [best] = scores.sort((a, b) => b.known - a.known || b.columns - a.columns);
  return best?.delimiter ?? ",";
}

function firstRow(head: string, delimiter: Delimiter): string[] {
  try {
    return (cellsOf(head, delimiter)[0] ?? []).map((cell) => cell.trim());
  } catch {
    return head.split(delimiter).map((cell) => cell.trim());
  }
}

export type DecimalSign = "comma" | "point";

const COMMA = /^[+-]?(?:\d+|\d{1,3}(?:\.\d{3})+),\d+$/u;
const POINT = /^[+-]?(?:\d+|\d{1,3}(?:,\d{3})+)\.\d+$/u;
/** `1,234` is one and a bit, or more than a thousand. */
const EITHER = /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/u;

/** The decimal sign of the cells; undefined when none has one; `unclear` with a cell that could be read either way. */
export function findDecimal(cells: readonly string[]): { sign?: DecimalSign; unclear?: string } {
  const signed = cells.filter((c) => COMMA.test(c) || POINT.test(c));
  const sure = signed.filter((c) => !EITHER.test(c));
  const commas = sure.filter((c) => COMMA.test(c));
  const points = sure.filter((c) => POINT.test(c));
  const unclear =
    commas.length > 0 && points.length > 0 ? commas[0] : sure.length === 0 ? signed[0] : undefined;
  if (unclear !== undefined) return { unclear };
  return sure.length === 0 ? {} : { sign: commas.length > 0 ? "comma" : "point" };
}

const GROUPS: Readonly<Record<DecimalSign, RegExp>> = {
  comma: /^[+-]?[1-9]\d{0,2}(?:\.\d{3})+$/u,
  point: /^[+-]?[1-9]\d{0,2}(?:,\d{3})+$/u,
};

/**
 * A number as a visit file writes it; a cell that is no number comes back as it was, and undefined says that the cell has
 * the other decimal sign than the table.
 */
export function plainNumber(cell: string, sign: DecimalSign | undefined): string | undefined {
  if (sign === undefined) return cell;
  const [own, other] = sign === "comma" ? [COMMA, POINT] : [POINT, COMMA];
  const group = sign === "comma" ? "." : ",";
  if (own.test(cell) || GROUPS[sign].test(cell)) return cell.replaceAll(group, "").replace(",", ".");
  return other.test(cell) ? undefined : cell;
}

const NUMERIC_DATE = /^(\d{1,2})([./-])(\d{1,2})\2(\d{4})(?:[ T].*)?$/u;
const YEAR_FIRST = /^(\d{4})([./-])(\d{1,2})\2(\d{1,2})(?:[ T].*)?$/u;
const NAMED_MONTH = /^(\d{1,2})[ .-]+([a-z]{3})[a-z]*[ .,-]+(\d{4})$/iu;
const MONTHS = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];

/**
 * The order of day and month in the cells; undefined when none needs it. A date that fits both ways (3/4/2026) decides
 * nothing: when no other does, `unclear` holds it and the order must be stated, since a guess may be another person's birthday.
 */
export function findDateOrder(cells: readonly string[]): { order?: DateOrder; unclear?: string } {
  const numeric = cells.flatMap((cell) => {
    const m = NUMERIC_DATE.exec(cell);
    return m ? [{ cell, first: Number(m[1]), second: Number(m[3]), dots: m[2] === "." }] : [];
  });
  if (numeric.length === 0) return cells.some((c) => YEAR_FIRST.test(c)) ? { order: "year-month-day" } : {};
  // Dots between figures are written by people who put the day first (common practice).
  const dayFirst = numeric.some((d) => d.first > 12 || d.dots);
  const monthFirst = numeric.some((d) => d.second > 12 && !d.dots);
  if (dayFirst !== monthFirst) return { order: dayFirst ? "day-month-year" : "month-day-year" };
  const open = numeric.find((d) => d.first <= 12 && d.second <= 12 && d.first !== d.second) ?? numeric[0];
  return open ? { unclear: open.cell } : {};
}

/** A date as a visit file writes it; anything else comes back as it was, for the reader to judge. */
export function isoDate(cell: string, order: DateOrder | undefined): string {
  const iso = YEAR_FIRST.exec(cell);
  if (iso) return joined(iso[1], iso[3], iso[4]);
  const named = NAMED_MONTH.exec(cell);
  const month = MONTHS.indexOf((named?.[2] ?? "").toLowerCase());
  if (named && month !== -1) return joined(named[3], String(month + 1), named[1]);
  const numeric = NUMERIC_DATE.exec(cell);
  if (!numeric || order === undefined || order === "year-month-day") return cell;
  return order === "month-day-year"
    ? joined(numeric[4], numeric[1], numeric[3])
    : joined(numeric[4], numeric[3], numeric[1]);
}

function joined(year = "", month = "", day = ""): string {
  return `${year}-${month.padStart(2, "0")}-${day.padStart(2, "0")}`;
}
