/**
 * Documents made of a visit, in `letters/` beside it, with a record of what each was made of. A document is offered for what
 * the record says of it and its bytes still are, never for its name: two visits may carry one number by mistake.
 */
import { existsSync, lstatSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { z } from "zod";
import { sha256 } from "../base/sha256.js";
import { writeWhole } from "../files/write.js";

const RECORD = "made.json";

const entry = z.strictObject({
  name: z.string().regex(/^[^/\\]+\.pdf$/u),
  kind: z.string(),
  /** Name of the addressee; empty for a document without one. */
  reader: z.string(),
  /** File name of the visit, beside the folder of letters. */
  visit_file: z.string(),
  visit: z.string(),
  patient: z.strictObject({ id: z.string(), given: z.string(), family: z.string(), born: z.string() }),
  /** Over the text of the visit that it was made of. */
  text_sha256: z.string(),
  /** Over the document. */
  sha256: z.string(),
  made_at: z.string(),
});
const record = z.strictObject({ format: z.literal(1), documents: z.array(entry) });

export type MadeEntry = z.output<typeof entry>;
/** Whose document it is. */
export type Owner = Pick<MadeEntry, "visit" | "patient">;

export const lettersOf = (visitPath: string): string => join(dirname(visitPath), "letters");

function readRecord(folder: string): MadeEntry[] {
  try {
    return record.parse(JSON.parse(readFileSync(join(folder, RECORD), "utf8"))).documents;
  } catch {
    return [];
  }
}

const isOf = (made: MadeEntry, visitPath: string, owner: Owner): boolean =>
  made.visit_file === basename(visitPath) &&
  made.visit === owner.visit &&
  JSON.stringify(made.patient) === JSON.stringify(owner.patient);

/** Hashes of documents by time and size, so that a list of visits does not read them all again and again. */
const hashed = new Map<string, { readonly stamp: string; readonly sha256: string }>();

function hashOfFile(file: string): string | undefined {
  const stat = lstatSync(file, { throwIfNoEntry: false });
  if (!stat?.isFile()) return undefined;
  const stamp = `${stat.mtimeMs} ${stat.size} ${stat.ino}`;
  const known = hashed.get(file);
  if (known?.stamp === stamp) return known.sha256;
  const found = { stamp, sha256: sha256(readFileSync(file)) };
  hashed.set(file, found);
  return found.sha256;
}

export interface Made extends MadeEntry {
  readonly file: string;
  /** True when the visit is still the text that it was made of. */
  readonly current: boolean;
}

/** The documents of a visit that are still the bytes that were made for this patient. */
export function madeOf(visitPath: string, text: string, owner: Owner | undefined): Made[] {
  const folder = lettersOf(visitPath);
  if (!owner || lstatSync(folder, { throwIfNoEntry: false })?.isDirectory() !== true) return [];
  const now = sha256(text);
  return readRecord(folder)
    .filter((made) => isOf(made, visitPath, owner))
    .map((made) => ({ ...made, file: join(folder, made.name), current: made.text_sha256 === now }))
    .filter(({ file, sha256: bytes }) => hashOfFile(file) === bytes);
}

/** By file of records, what was read of it until it changes. */
const records = new Map<string, { readonly stamp: string; readonly entries: readonly MadeEntry[] }>();

/** True when documents were made of exactly this text of the visit and none of them is missing; their bytes are looked at when one is opened. */
export function areMade(visitPath: string, textSha256: string): boolean {
  const folder = lettersOf(visitPath);
  const file = join(folder, RECORD);
  const stat = lstatSync(file, { throwIfNoEntry: false });
  if (!stat?.isFile()) return false;
  const stamp = `${stat.mtimeMs} ${stat.size}`;
  const known = records.get(file);
  const entries = known?.stamp === stamp ? known.entries : readRecord(folder);
  records.set(file, { stamp, entries });
  const own = entries.filter(({ visit_file }) => visit_file === basename(visitPath));
  return (
    own.length > 0 &&
    own.every(({ name, text_sha256 }) => text_sha256 === textSha256 && existsSync(join(folder, name)))
  );
}

/** Names among `names` under which another visit's document lies already. */
export function takenNames(visitPath: string, owner: Owner, names: readonly string[]): string[] {
  const folder = lettersOf(visitPath);
  const known = readRecord(folder);
  return names.filter(
    (name) =>
      existsSync(join(folder, name)) &&
      known.some((made) => made.name === name && !isOf(made, visitPath, owner)),
  );
}

/** The visit file has another name in its folder: its documents are still its own. */
export function renameInRecord(visitPath: string, name: string): void {
  const folder = lettersOf(visitPath);
  const known = readRecord(folder);
  if (!known.some(({ visit_file }) => visit_file === basename(visitPath))) return;
  const documents = known.map((made) =>
    made.visit_file === basename(visitPath) ? { ...made, visit_file: name } : made,
  );
  writeWhole(join(folder, RECORD), `${JSON.stringify({ format: 1, documents }, null, 1)}\n`);
}

/** Writes documents, then says in the record what they are; what stood under their names is replaced. */
export function keepMade(
  visitPath: string,
  documents: readonly { readonly entry: MadeEntry; readonly bytes: Uint8Array }[],
): void {
  const folder = lettersOf(visitPath);
  for (const { entry, bytes } of documents) writeWhole(join(folder, entry.name), bytes);
  const names = new Set(documents.map(({ entry }) => entry.name));
  const others = readRecord(folder).filter(({ name }) => !names.has(name));
  const value = { format: 1, documents: [...others, ...documents.map(({ entry }) => entry)] };
  writeWhole(join(folder, RECORD), `${JSON.stringify(value, null, 1)}\n`);
}
