/** A folder of visits, or a worklist -> what is to be made, in order, and what could not be taken up. */
import { readFileSync, type Stats, statSync } from "node:fs";
import { dirname, relative, resolve, sep } from "node:path";
import { parse } from "csv-parse/sync";
import { PAPERS, type Paper, paperNamed } from "../base/paper.js";
import { VisitFiles } from "../clinic-folder/visit-files.js";
import { liesInside } from "../files/write.js";
import { type Reason, reason } from "./outcome.js";

/** What a line of the worklist says differently from the rest of the run. */
export interface Overrides {
  readonly documents?: readonly string[];
  readonly paper?: Paper;
  readonly language?: string;
  readonly largePrint?: boolean;
}

export interface WorkItem {
  /** Path from the folder of the source, with `/`; names the visit in the journal and picks its shard. */
  readonly key: string;
  readonly file: string;
  /** Place in the worklist, from 0. */
  readonly place: number;
  readonly overrides: Overrides;
}

export interface Skipped {
  readonly key: string;
  readonly reason: Reason;
}

export interface Source {
  /** Absolute path as named. */
  readonly path: string;
  /** Folder that keys count from. */
  readonly root: string;
  readonly items: readonly WorkItem[];
  readonly untaken: readonly Skipped[];
  readonly visits: VisitFiles;
}

export class NoSuchSource extends Error {}

/** Reads SOURCE. Throws NoSuchSource when there is none; anything wrong inside it is among `untaken`. */
export function readSource(path: string, visitsFolder?: string): Source {
  const absolute = resolve(path);
  const stat = statOf(absolute);
  if (!stat) throw new NoSuchSource(path);
  return stat.isDirectory()
    ? fromFolder(absolute)
    : fromWorklist(absolute, visitsFolder === undefined ? dirname(absolute) : resolve(visitsFolder));
}

function fromFolder(root: string): Source {
  const visits = new VisitFiles();
  const found = visits.below(root);
  const items = found.files.map((file, place) => ({ key: keyOf(root, file), file, place, overrides: {} }));
  const untaken = found.notTaken.map(({ file, id }) => ({ key: keyOf(root, file), reason: reason(id) }));
  return { path: root, root, items, untaken, visits };
}

const COLUMNS = ["visit", "documents", "paper", "language", "large_print"] as const;
type Row = Partial<Record<(typeof COLUMNS)[number], string>>;

/** Columns: visit (path), documents (names with spaces between), paper, language, large_print (yes or no); all but visit may be left out. */
function fromWorklist(path: string, root: string): Source {
  const items: WorkItem[] = [];
  const untaken: Skipped[] = [];
  const refuse = (key: string, why: Reason) => untaken.push({ key, reason: why });
  const seen = new Set<string>();
  for (const { row, line } of rowsOf(readFileSync(path, "utf8"), (why) => refuse("", why))) {
    const written = (row.visit ?? "").trim();
    if (written === "") continue;
    const file = resolve(root, written);
    const key = keyOf(root, file);
    const where = `line ${line}`;
    const overrides = overridesOf(row);
    const stat = statOf(file);
    if (typeof overrides === "string") refuse(key, reason("bad-worklist", overrides, where));
    else if (seen.has(key)) refuse(key, reason("listed-twice", undefined, where));
    else if (!liesInside(root, file)) refuse(key, reason("outside-folder", undefined, where));
    else if (!stat) refuse(key, reason("no-such-visit", undefined, where));
    else if (!stat.isFile()) refuse(key, reason("not-a-file", undefined, where));
    else items.push({ key, file, place: items.length, overrides });
    seen.add(key);
  }
  return { path, root, items, untaken, visits: new VisitFiles() };
}

function rowsOf(text: string, refuse: (why: Reason) => void): { row: Row; line: number }[] {
  let unknown: string[] = [];
  try {
    const parsed: { record: Row; info: { lines: number } }[] = parse(text, {
      bom: true,
      info: true,
      trim: true,
      delimiter: [",", ";", "\t"],
      skip_empty_lines: true,
      comment: "#",
      comment_no_infix: true,
      max_record_size: 100_000,
      columns: (header: string[]) => {
        const names = header.map((h) => h.toLowerCase().replaceAll(" ", "_"));
        unknown = names.filter((n) => !COLUMNS.some((c) => c === n));
        return names;
      },
    });
    if (unknown.length > 0) {
      refuse(reason("bad-worklist", `unknown columns; expected ${COLUMNS.join(", ")}`, "line 1"));
      return [];
    }
    if (parsed[0] && parsed[0].record.visit === undefined) {
      refuse(reason("bad-worklist", "no column named visit", "line 1"));
      return [];
    }
    return parsed.map(({ record, info }) => ({ row: record, line: info.lines }));
  } catch (error) {
    const line = error instanceof Error && "lines" in error ? `line ${String(error.lines)}` : undefined;
    refuse(reason("bad-worklist", undefined, line));
    return [];
  }
}

/** The overrides of a row, or what is wrong with them. */
function overridesOf(row: Row): Overrides | string {
  const documents = (row.documents ?? "").split(/[\s|+]+/u).filter(Boolean);
  const paper = row.paper ? paperNamed(row.paper) : undefined;
  if (row.paper && !paper) return `paper is ${PAPERS.join(" or ")}`;
  const language = row.language ?? "";
  if (!/^([a-z]{2,3}([-_][a-z0-9]{2,8})*)?$/iu.test(language)) return "language is a tag such as en-GB";
  const large = (row.large_print ?? "").toLowerCase();
  if (!["", "yes", "no", "true", "false"].includes(large)) return "large_print is yes or no";
  if (documents.some((d) => !/^[\p{L}\p{N}._-]+$/u.test(d))) return "documents are names such as handout";
  return {
    ...(documents.length > 0 ? { documents } : {}),
    ...(paper ? { paper } : {}),
    ...(language ? { language } : {}),
    ...(large ? { largePrint: large === "yes" || large === "true" } : {}),
  };
}

function keyOf(root: string, file: string): string {
  return relative(root, file).split(sep).join("/");
}

/** Undefined for whatever cannot be reached: no such file, a name too long, a file where a folder should be. */
function statOf(path: string): Stats | undefined {
  try {
    return statSync(path);
  } catch {
    return undefined;
  }
}
