/** A spreadsheet workbook (.xlsx) -> the cells of one sheet as text, dates as year-month-day and figures with a point. */
import readExcelFile from "read-excel-file/universal";

/** The cells of a sheet, with the names of the sheets beside it. */
export interface Sheet {
  readonly name: string;
  readonly cells: string[][];
  readonly others: readonly string[];
}

export type OpenedWorkbook = { readonly sheet: Sheet } | { readonly fault: string };

/** Far more than a table of visits needs; a larger file is another kind of thing. */
const MOST_BYTES = 50 * 1024 * 1024;

/** True for the bytes of a workbook, old or new, whatever the name of the file. */
export function isWorkbook(bytes: Uint8Array): boolean {
  return startsWith(bytes, [0x50, 0x4b, 0x03, 0x04]) || isOldWorkbook(bytes);
}

const isOldWorkbook = (bytes: Uint8Array) => startsWith(bytes, [0xd0, 0xcf, 0x11, 0xe0]);

const startsWith = (bytes: Uint8Array, start: readonly number[]) =>
  start.every((byte, i) => bytes[i] === byte);

/** The first sheet of a workbook, or that of the name given. */
export async function openWorkbook(bytes: Uint8Array, name?: string): Promise<OpenedWorkbook> {
  if (isOldWorkbook(bytes)) return { fault: "an old workbook (.xls); save it as .xlsx or as CSV" };
  if (bytes.length > MOST_BYTES) return { fault: "a workbook of more than 50 MiB" };
  const sheets = await sheetsOf(bytes);
  if (!sheets) return { fault: "this is no workbook that can be read; save it as .xlsx or as CSV" };
  const sheet = name === undefined ? sheets[0] : sheets.find((s) => s.sheet === name);
  if (!sheet) return { fault: `no sheet "${name ?? ""}"; there is ${sheets.map((s) => s.sheet).join(", ")}` };
  return {
    sheet: {
      name: sheet.sheet,
      cells: sheet.data.map((row) => row.map(cellText)),
      others: sheets.filter((s) => s !== sheet).map((s) => s.sheet),
    },
  };
}

async function sheetsOf(bytes: Uint8Array) {
  try {
    const copy = new Uint8Array(bytes).buffer;
    return await readExcelFile(copy);
  } catch {
    return undefined;
  }
}

function cellText(cell: unknown): string {
  if (cell === null || cell === undefined) return "";
  if (cell instanceof Date) return dateText(cell);
  return String(cell);
}

/** A day without a time stays a day; the workbook keeps both as one number. */
function dateText(date: Date): string {
  if (Number.isNaN(date.getTime())) return "";
  const [day = "", time = ""] = date.toISOString().split("T");
  return time.startsWith("00:00:00") ? day : `${day}T${time.slice(0, 8)}`;
}
