/** `whorl new visit --from TABLE` and `whorl new mapping TABLE`: one visit file for each visit of the table, all of them or none. */
import { existsSync, readFileSync } from "node:fs";
import { basename, join } from "node:path";
import type { Problem } from "../base/problem.js";
import {
  type DetectedTable,
  isWorkbook,
  mappingDraft,
  openWorkbook,
  readMapping,
  type Sheet,
  type TableResult,
  tableToVisits,
} from "../exchange/exchange.js";
import { writeAllNew } from "../files/move.js";
import { writeWhole } from "../files/write.js";
import type { Knowledge } from "../knowledge/schema.js";
import { EXIT } from "./context.js";
import { isTaken } from "./new-file.js";
import { countProblems, showProblems } from "./show-problems.js";

export interface TableOptions {
  readonly from: string;
  readonly map: string;
  readonly out: string | undefined;
  readonly preview: boolean | undefined;
}

/** Visits printed in full by --preview. */
const SHOWN = 2;

/** Reads table and mapping, says how they were read, and writes the visits. Returns the exit code. */
export async function newFromTable(options: TableOptions, knowledge: Knowledge): Promise<number> {
  const absent = [options.from, options.map].filter((file) => !existsSync(file));
  if (absent.length > 0) {
    process.stderr.write(`${absent.map((file) => `There is no file ${file}.`).join("\n")}\n`);
    return EXIT.input;
  }
  const { value: mapping, problems } = readMapping(readFileSync(options.map, "utf8"), options.map, knowledge);
  if (!mapping) {
    process.stderr.write(`${showProblems(problems)}\n\nThe mapping cannot be used; nothing was written.\n`);
    return EXIT.input;
  }
  const table = await tableOf(options.from, mapping.read.sheet);
  if (!table) return EXIT.input;
  const result = tableToVisits(table, mapping, knowledge, basename(options.from));
  process.stderr.write(`${howRead(options.from, result.detected)}\n`);
  const found = [...problems, ...result.problems, ...result.rows.flatMap((r) => r.problems.map(inItsCell))];
  if (found.length > 0) process.stderr.write(`\n${showProblems(found)}\n`);
  const bad = result.rows.filter((r) => r.visitText === undefined).length;
  const stopped = bad > 0 || result.rows.length === 0;
  const count = countProblems(found);
  if (options.preview) {
    preview(result);
    const would = stopped ? "nothing would be written" : `${result.rows.length} visit files would be written`;
    process.stderr.write(`\n${would}${count ? `; ${count}` : ""}\n`);
    return stopped ? EXIT.input : EXIT.fine;
  }
  if (stopped) {
    process.stderr.write(
      `\nNothing was written: ${bad} of ${result.rows.length} visits cannot be made; ${count}\n`,
    );
    return EXIT.input;
  }
  return writeAll(result, options.out ?? ".");
}

/** The bytes of an export, or a sheet of a workbook; undefined, and said so, where it cannot be opened. */
async function tableOf(file: string, sheet: string | undefined): Promise<Uint8Array | Sheet | undefined> {
  const bytes = readFileSync(file);
  if (!isWorkbook(bytes)) return bytes;
  const opened = await openWorkbook(bytes, sheet);
  if ("fault" in opened) {
    process.stderr.write(`${basename(file)}: ${opened.fault}\n`);
    return undefined;
  }
  const { name, others } = opened.sheet;
  if (others.length > 0)
    process.stderr.write(
      `${basename(file)}: reading the sheet "${name}"; name another under read: { sheet: ... } (${others.join(", ")})\n`,
    );
  return opened.sheet;
}

/** `whorl new mapping TABLE`: a mapping file to check and finish. Returns the exit code. */
export async function newMapping(
  file: string,
  options: { readonly sheet?: string; readonly out?: string },
  knowledge: Knowledge,
): Promise<number> {
  if (!existsSync(file)) {
    process.stderr.write(`There is no file ${file}.\n`);
    return EXIT.input;
  }
  if (options.out !== undefined && isTaken(options.out)) return EXIT.input;
  const table = await tableOf(file, options.sheet);
  if (!table) return EXIT.input;
  const draft = mappingDraft(table, basename(file), knowledge);
  if ("fault" in draft) {
    process.stderr.write(`${basename(file)}: ${draft.fault}\n`);
    return EXIT.input;
  }
  if (options.out === undefined) process.stdout.write(draft.text);
  else {
    writeWhole(options.out, draft.text);
    process.stderr.write(
      `${options.out} is to be checked; then: whorl new visit --from ${file} --map ${options.out} --preview\n`,
    );
  }
  return EXIT.fine;
}

/** `export.csv: 12 rows, windows-1252 (by guess), semicolons, decimal comma, dates day-month-year` */
function howRead(file: string, d: DetectedTable): string {
  const known = { stated: " (as the mapping says)", certain: "", guessed: " (by guess)" }[d.encodingKnown];
  const parts = [
    `${d.rows} row${d.rows === 1 ? "" : "s"}`,
    `${d.encoding}${known}`,
    ...(d.delimiter === "sheet" ? [] : [`cells parted by ${d.delimiter}`]),
    d.decimal === "none seen" ? "no decimal sign seen" : `decimal ${d.decimal}`,
    d.dates === "none seen" ? "no dates seen" : `dates ${d.dates}`,
  ];
  return `${basename(file)}: ${parts.join(", ")}`;
}

function inItsCell(p: TableResult["rows"][number]["problems"][number]): Problem {
  const { row, tableColumn, ...rest } = p;
  const cell = tableColumn === undefined ? `row ${row}` : `row ${row}, column "${tableColumn}"`;
  return { ...rest, message: `${cell}: ${p.message}` };
}

function preview(result: TableResult): void {
  const whole = result.rows.filter((r) => r.visitText !== undefined);
  for (const { file, visitText } of whole.slice(0, SHOWN))
    process.stdout.write(`--- ${file}\n${visitText}\n`);
  const rest = whole.slice(SHOWN).map((r) => r.file ?? "");
  if (rest.length > 0) process.stdout.write(`--- and ${rest.length} more: ${rest.slice(0, 10).join(", ")}\n`);
}

/** Writes every file, or none where a name is taken or one cannot be written. */
function writeAll(result: TableResult, out: string): number {
  const files = result.rows.map((r) => ({ file: join(out, r.file ?? ""), text: r.visitText ?? "" }));
  const taken = writeAllNew(files);
  if (taken.length > 0) {
    process.stderr.write(
      `\nNothing was written: ${taken.slice(0, 5).join(", ")}${taken.length > 5 ? ", ..." : ""} exist already.\n`,
    );
    return EXIT.input;
  }
  process.stderr.write(`${files.length} visit file${files.length === 1 ? "" : "s"} in ${out}\n`);
  return EXIT.fine;
}
