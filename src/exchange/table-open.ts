/** A table as it lies on disk -> its cells: the text of an export decoded and cut, or a sheet as it is. */
import { decodeTable } from "./table-decode.js";
import { cellsOf, DELIMITERS, type Delimiter, findDelimiter, whyNoCells } from "./table-detect.js";
import type { TableMapping } from "./table-mapping.js";
import type { Sheet } from "./table-workbook.js";

export interface TableBase {
  readonly encoding: string;
  readonly encodingKnown: "stated" | "certain" | "guessed";
  readonly delimiter: "comma" | "semicolon" | "tab" | "bar" | "sheet";
}

interface Opened {
  readonly base: TableBase;
  /** Row of the header as a spreadsheet counts. */
  readonly firstRow: number;
}

export type OpenedTable =
  | (Opened & { readonly cells: string[][]; readonly decimal?: "point" })
  | (Opened & { readonly fault: { readonly message: string; readonly line?: number } });

/** The cells of a table; `wanted` are the columns that tell one delimiter from another. */
export function openTable(
  table: Uint8Array | Sheet,
  read: TableMapping["read"],
  wanted: readonly string[],
): OpenedTable {
  if (!(table instanceof Uint8Array)) {
    const base = { encoding: "workbook", encodingKnown: "certain", delimiter: "sheet" } as const;
    // The figures of a sheet are figures, whatever sign its program shows.
    return { base, firstRow: 1, cells: table.cells, decimal: "point" };
  }
  const decoded = decodeTable(table, read.encoding);
  const marked = /^sep=(.)\r?\n/iu.exec(decoded.text);
  const text = marked ? decoded.text.slice(marked[0].length) : decoded.text;
  const delimiter = delimiterOf(read, marked?.[1]) ?? findDelimiter(text, wanted);
  const base = { encoding: decoded.encoding, encodingKnown: decoded.known, delimiter: DELIMITERS[delimiter] };
  const firstRow = marked ? 2 : 1;
  try {
    return { base, firstRow, cells: cellsOf(text, delimiter) };
  } catch (error) {
    return { base, firstRow, fault: whyNoCells(error) };
  }
}

function delimiterOf(read: TableMapping["read"], marked: string | undefined): Delimiter | undefined {
  const stated = read.delimiter === "tab" ? "\t" : (read.delimiter ?? marked);
  return stated !== undefined && stated in DELIMITERS ? (stated as Delimiter) : undefined;
}
