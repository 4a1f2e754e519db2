/** What the list says of each visit, kept beside the folder for the next start. It may be deleted at any time, and is made anew when it is of another version. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { sha256 } from "../base/sha256.js";
import type { Looked } from "../clinic-folder/visit-files.js";
import { NotWritten } from "../files/not-written.js";
import { writeWhole } from "../files/write.js";
import type { ListedVisit } from "./list-messages.js";
import type { RecipientEntry } from "./messages.js";

export const LIST_FILE = join(".whorl", "desk-list.json");
/** Raised when what is kept changes its shape. */
const EDITION = 1;
/** Fewer are read in no time. */
const WORTH_KEEPING = 150;

export interface Kept {
  /** Of the text that this was read from. */
  readonly hash: string;
  readonly listed: ListedVisit;
  readonly recipients: readonly RecipientEntry[];
  /** False while only the head of the file was looked at. */
  readonly isWhole: boolean;
}

export interface KeptList {
  /** By path inside the folder. */
  readonly visits: Readonly<Record<string, Kept>>;
  readonly looked: Readonly<Record<string, Looked>>;
}

/** `mark` names the knowledge by which visits are read. */
export function readKeptList(folder: string, mark: string): KeptList {
  try {
    const text = readFileSync(join(folder, LIST_FILE), "utf8");
    const end = text.indexOf("\n");
    const body = text.slice(end + 1);
    if (text.slice(0, end) === headOf(mark, body)) return JSON.parse(body) as KeptList;
  } catch {
    // Missing or unreadable: made anew.
  }
  return { visits: {}, looked: {} };
}

export function keepList(folder: string, mark: string, list: KeptList): void {
  if (Object.keys(list.visits).length < WORTH_KEEPING) return;
  const body = JSON.stringify(list);
  try {
    writeWhole(join(folder, LIST_FILE), `${headOf(mark, body)}\n${body}`);
  } catch (error) {
    // A folder that cannot be written in is left alone.
    if (!(error instanceof NotWritten)) throw error;
  }
}

const headOf = (mark: string, body: string): string => `${EDITION} ${mark} ${sha256(body)}`;
