/**
 * The journal of a folder: one line per finished visit, so that a killed run continues where it was. In order, each step on disk
 * before the next: the names of the visit's files (announced), the files under those names, the line that vouches for them. So
 * after a kill or a power cut a line vouches only for what stands, and every file that stands has a line that names it.
 */
import { join } from "node:path";
import { openAppended, readAppended } from "../files/append.js";
import { writeWhole } from "../files/write.js";
import type { JournalHead, VisitRecord } from "./records.js";

export const stateFolder = (out: string): string => join(out, ".whorl");
const journalFile = (out: string) => join(stateFolder(out), "journal.jsonl");

export interface Remembered {
  readonly head?: JournalHead;
  /** By key; a later line takes the place of an earlier one. */
  readonly visits: ReadonlyMap<string, VisitRecord>;
  /** Every file that earlier runs wrote or were about to write. */
  readonly files: ReadonlySet<string>;
}

export interface Journal {
  /** Says which files are about to appear, so that a run killed in between leaves none that nobody answers for; on disk at return. */
  announce(files: readonly string[]): void;
  /** A finished visit; returns when the line is on disk. */
  add(visit: VisitRecord): void;
  close(): void;
}

/** Reads what earlier runs left. A torn line, from a killed run or a full disk, is passed over: that visit is done again. */
export function readJournal(out: string): Remembered {
  const visits = new Map<string, VisitRecord>();
  const files = new Set<string>();
  let head: JournalHead | undefined;
  for (const line of readAppended(journalFile(out))) {
    const value = parsed(line);
    if (isHead(value)) head = value;
    else if (isVisitRecord(value)) {
      visits.set(value.key, value);
      for (const document of value.documents) files.add(document.file);
    } else if (isAnnouncement(value)) for (const file of value.writing) files.add(file);
  }
  return head ? { head, visits, files } : { visits, files };
}

/**
 * Rewrites the journal with one line for each visit and keeps it open for more. `left` are files of earlier runs that nobody
 * vouches for; they stay known until a run has ended.
 */
export function openJournal(
  out: string,
  head: JournalHead,
  visits: Iterable<VisitRecord>,
  left: readonly string[] = [],
): Journal {
  const lines = [head, ...visits, ...(left.length > 0 ? [{ writing: left }] : [])].map(
    (v) => `${JSON.stringify(v)}\n`,
  );
  writeWhole(journalFile(out), lines.join(""));
  const file = openAppended(journalFile(out));
  return {
    announce: (writing) => file.append(JSON.stringify({ writing })),
    add: (visit) => file.append(JSON.stringify(visit)),
    close: () => file.close(),
  };
}

function parsed(line: string): unknown {
  try {
    return JSON.parse(line);
  } catch {
    return undefined;
  }
}

function isHead(value: unknown): value is JournalHead {
  return typeof value === "object" && value !== null && "journal" in value && "source" in value;
}

function isAnnouncement(value: unknown): value is { writing: string[] } {
  return typeof value === "object" && value !== null && "writing" in value && Array.isArray(value.writing);
}

function isVisitRecord(value: unknown): value is VisitRecord {
  return (
    typeof value === "object" &&
    value !== null &&
    "key" in value &&
    "fingerprint" in value &&
    "documents" in value &&
    Array.isArray(value.documents)
  );
}
