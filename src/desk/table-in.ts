/** Visits from a table, an export or a workbook, by a mapping: first shown, then written, all of them or none. */
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { hasError, type Problem } from "../base/problem.js";
import { identityProblem } from "../clinic-folder/identity-problems.js";
import { People } from "../clinic-folder/people.js";
import { scanText } from "../clinic-folder/scan.js";
import {
  isWorkbook,
  mappingDraft,
  mappingForm,
  openWorkbook,
  readMapping,
  type Sheet,
  tableToVisits,
  withoutOldRemarks,
} from "../exchange/exchange.js";
import { writeAllNew } from "../files/move.js";
import { liesInside, writeWhole } from "../files/write.js";
import type { Desk } from "./desk.js";
import { CannotEdit, editText } from "./edit-yaml.js";
import { nameOf } from "./folder.js";
import { HttpError } from "./http-error.js";
import type { TableAsked, TableTried } from "./list-messages.js";
import type { Edit } from "./messages.js";
import { NEVER_SHARED } from "./new-visit.js";

/** Base64 of a table; more rows than a clinic has in years. */
export const MOST_TABLE_BODY = 12 * 1024 * 1024;
/** Kept in the desk's folder for the next table; no command takes it for a visit. */
const MAPPING = "mapping.yaml";

interface Tried extends TableTried {
  readonly files: readonly { readonly file: string; readonly text: string }[];
}

/** How the table would be read, and what would be written. Nothing is. */
export async function tryTable(desk: Desk, asked: TableAsked): Promise<TableTried> {
  const { files: _, ...shown } = await tried(desk, asked);
  return shown;
}

/** Writes every visit of the table, and keeps the mapping for the next one. */
export async function takeTable(desk: Desk, asked: TableAsked): Promise<{ readonly files: string[] }> {
  const { files, isReady, mapping, problems } = await tried(desk, asked);
  if (!isReady) throw new HttpError(422, "Nothing was written.", problems);
  const [taken] = writeAllNew(files);
  if (taken !== undefined)
    throw new HttpError(409, `Nothing was written: ${nameOf(desk.folder, taken)} is there already.`);
  writeWhole(join(desk.folder, MAPPING), mapping);
  return { files: files.map(({ file }) => nameOf(desk.folder, file)) };
}

async function tried(desk: Desk, { name, bytes, mapping: given, edits }: TableAsked): Promise<Tried> {
  const kept = join(desk.folder, MAPPING);
  const before = given ?? (existsSync(kept) ? readFileSync(kept, "utf8") : undefined);
  const known = before && edits ? changed(before, edits) : before;
  const sheet = known && readMapping(known, MAPPING, desk.knowledge).value?.read.sheet;
  const table = await opened(Buffer.from(bytes, "base64"), sheet || undefined);
  const mapping = known ?? drafted(desk, table, name);
  const form = mappingForm(table, mapping, desk.knowledge) ?? null;
  const by = readMapping(mapping, MAPPING, desk.knowledge);
  if (!by.value)
    return { mapping, form, problems: by.problems, visits: [], rows: 0, isReady: false, files: [] };
  const { rows, problems, detected } = tableToVisits(table, by.value, desk.knowledge, name);
  const files = rows.flatMap(({ file, visitText: text }) =>
    file === undefined || text === undefined ? [] : [{ file: join(desk.folder, file), text }],
  );
  const doubts = doubtsOf(desk, files);
  const visits = rows.map(({ row, file, visit, problems: own }) => {
    const path = join(desk.folder, file ?? "");
    // What a draft still lacks is said by its form.
    const wrong = own.filter(({ severity }) => severity === "error");
    const here = [...wrong, ...(file === undefined ? [] : (doubts.get(path) ?? []))];
    return {
      row,
      file: file ?? "",
      patient: [visit?.patient.name.given, visit?.patient.name.family].filter(Boolean).join(" "),
      date: visit?.date ?? "",
      isTaken: file !== undefined && existsSync(path),
      problems: here,
    };
  });
  const isReady =
    files.length > 0 &&
    files.length === rows.length &&
    !hasError(problems) &&
    files.every(({ file }) => liesInside(desk.folder, file)) &&
    visits.every(({ isTaken, problems: own }) => !isTaken && !own.some(({ id }) => NEVER_SHARED.has(id)));
  const all = [...by.problems, ...problems];
  return { mapping, form, problems: all, visits, rows: detected.rows, isReady, files };
}

/** The mapping with the form's changes; its remarks on what was open go once it is settled. */
function changed(mapping: string, edits: readonly Edit[]): string {
  try {
    return withoutOldRemarks(editText(mapping, edits, {}));
  } catch (error) {
    if (error instanceof CannotEdit) throw new HttpError(422, error.message);
    throw error;
  }
}

async function opened(bytes: Uint8Array, sheet: string | undefined): Promise<Uint8Array | Sheet> {
  if (!isWorkbook(bytes)) return bytes;
  const workbook = await openWorkbook(bytes, sheet);
  if ("fault" in workbook) throw new HttpError(422, workbook.fault);
  return workbook.sheet;
}

function drafted(desk: Desk, table: Uint8Array | Sheet, name: string): string {
  const draft = mappingDraft(table, name, desk.knowledge);
  if ("fault" in draft) throw new HttpError(422, draft.fault);
  return draft.text;
}

/** By path, what is doubtful about whose visit each is, among those of the folder and of the table. */
function doubtsOf(
  desk: Desk,
  files: readonly { readonly file: string; readonly text: string }[],
): ReadonlyMap<string, readonly Problem[]> {
  const { visits, files: there } = desk.folderLook.now();
  const own = files.map(({ file, text }) => scanText(file, text));
  const people = new People([...there.map((file) => visits.scan(file)), ...own]);
  return new Map(
    own.map(({ file }) => {
      const known = people.known(file);
      return [file, known ? people.doubts(file).map((doubt) => identityProblem(doubt, known)) : []];
    }),
  );
}
