/** What workers made -> files in the folder, and lines for the journal. The only hand that writes letters. */
import { existsSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import { sha256 } from "../base/sha256.js";
import { moveInto, removeIfEmpty, writeTogether } from "../files/write.js";
import type { MadeVisit } from "./job.js";
import type { Journal } from "./journal.js";
import { type Reason, reason } from "./outcome.js";
import type { DocumentRecord, VisitRecord } from "./records.js";

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
export class OutputStore {
  private readonly owners = new Map<string, string>();
  private readonly moved = new Set<string>();

  /**
   * `finished` are visits whose documents stand. `left` (see leftFrom) is moved to `withdrawn/` at once, so that no letter stays
   * among the good ones that this run does not stand behind.
   */
  constructor(
    private readonly folder: string,
    finished: Iterable<VisitRecord>,
    left: readonly string[],
  ) {
    for (const record of finished)
      for (const { file } of record.documents) this.claim(nameOf(file), record.key);
    for (const file of left) {
      moveInto(join(folder, file), join(folder, WITHDRAWN));
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
      : {
          key,
          fingerprint,
          visit,
          state: made.state,
          documents: recordsOf(made),
          reasons: made.reasons,
          ...(made.signed ? { signed: made.signed } : {}),
        };
    journal.announce(record.documents.map((d) => d.file));
    const written = record.documents.map(({ file }, i) => ({
      file: join(this.folder, file),
      bytes: made.files[i]?.bytes ?? new Uint8Array(),
    }));
    writeTogether(written);
    for (const { file } of record.documents) {
      rmSync(join(this.folder, WITHDRAWN, nameOf(file)), { force: true });
      this.moved.delete(nameOf(file));
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

/**
 * Of the files that earlier runs wrote or were about to write, those that are there and that no finished visit stands behind:
 * in their place, or already in `withdrawn/` because a killed run came so far.
 */
export function leftFrom(folder: string, known: Iterable<string>, finished: Iterable<VisitRecord>): string[] {
  const standing = new Set([...finished].flatMap((record) => record.documents.map((d) => d.file)));
  return [...known].filter(
    (file) =>
      !standing.has(file) &&
      (existsSync(join(folder, file)) || existsSync(join(folder, WITHDRAWN, nameOf(file)))),
  );
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
