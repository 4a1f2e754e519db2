/** What workers made -> files in the folder, and lines for the journal. The only hand that writes letters. */
import { readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { moveInto, removeIfEmpty, writeWhole } from "../files/write.js";
import type { MadeVisit } from "./job.js";
import type { Journal } from "./journal.js";
import { type Reason, reason } from "./outcome.js";
import type { DocumentRecord, VisitRecord } from "./records.js";
import { sha256 } from "./scan.js";

export const SET_ASIDE = "set-aside";
export const WITHDRAWN = "withdrawn";

export interface VisitToKeep {
  readonly key: string;
  readonly fingerprint: string;
  /** Visit id, or empty when it could not be made out. */
  readonly visit: string;
  readonly made: MadeVisit;
}

/** Keeps the documents of one run in a folder, under names that no two visits share. */
export class Keeper {
  private readonly owners = new Map<string, string>();
  private readonly moved = new Set<string>();

  /**
   * `finished` are visits whose documents stand; every other file of `known` is moved to `withdrawn/` at once, so that no
   * letter stays among the good ones that this run does not stand behind.
   */
  constructor(
    private readonly folder: string,
    finished: Iterable<VisitRecord>,
    known: Iterable<string>,
  ) {
    const standing = new Set<string>();
    for (const record of finished) {
      for (const { file } of record.documents) {
        standing.add(file);
        this.claim(nameOf(file), record.key);
      }
    }
    for (const file of known) {
      if (!standing.has(file) && moveInto(join(folder, file), join(folder, WITHDRAWN)))
        this.moved.add(nameOf(file));
    }
  }

  /** Ends the run: how many documents were withdrawn and have not been made anew. */
  end(): number {
    removeIfEmpty(join(this.folder, WITHDRAWN));
    removeIfEmpty(join(this.folder, SET_ASIDE));
    return this.moved.size;
  }

  /** Writes the documents, each whole, then the journal line that vouches for them. */
  keep({ key, fingerprint, visit, made }: VisitToKeep, journal: Journal): VisitRecord {
    const taken = made.files.find((f) => !this.claim(f.name, key));
    const record = taken
      ? failedRecord(key, fingerprint, visit, [reason("name-taken", this.owners.get(folded(taken.name)))])
      : { key, fingerprint, visit, state: made.state, documents: recordsOf(made), reasons: made.reasons };
    journal.announce(record.documents.map((d) => d.file));
    for (const [i, document] of record.documents.entries()) {
      writeWhole(join(this.folder, document.file), made.files[i]?.bytes ?? new Uint8Array());
      if (this.moved.delete(nameOf(document.file)))
        rmSync(join(this.folder, WITHDRAWN, nameOf(document.file)), { force: true });
    }
    journal.add(record);
    return record;
  }

  private claim(name: string, key: string): boolean {
    const owner = this.owners.get(folded(name)) ?? key;
    this.owners.set(folded(name), owner);
    return owner === key;
  }
}

/** True when every document of the record is on disk, byte for byte. */
export function isWhole(folder: string, record: VisitRecord): boolean {
  return record.documents.every((d) => {
    try {
      return sha256(readFileSync(join(folder, d.file))) === d.sha256;
    } catch {
      return false;
    }
  });
}

export function failedRecord(
  key: string,
  fingerprint: string,
  visit: string,
  reasons: readonly Reason[],
): VisitRecord {
  return { key, fingerprint, visit, state: "failed", documents: [], reasons };
}

function recordsOf(made: MadeVisit): DocumentRecord[] {
  return made.files.map(({ name, record }) => ({
    ...record,
    file: record.state === "set aside" ? `${SET_ASIDE}/${name}` : name,
  }));
}

function nameOf(file: string): string {
  return file.slice(file.lastIndexOf("/") + 1);
}

/** Capital and small letters count as the same, as they do on many disks. */
function folded(name: string): string {
  return name.normalize("NFC").toLowerCase();
}
