/** A person says that documents have left the clinic, or are not to leave it. */

import { WITHDRAWAL } from "../letter/withdrawal.js";
import { addLines, holding, now } from "./append.js";
import { documentsIn, type RegisteredDocument } from "./documents.js";
import { type Kept, keepContent } from "./kept.js";
import type { CallerEntry } from "./line.js";
import { chainOf } from "./read.js";

export interface Sending {
  readonly by: string;
  readonly how: string;
  /** ISO day on which they left. */
  readonly on: string;
}

/**
 * Marks documents as sent, by the hashes of the lines that tell of their making. One that was sent, replaced or withdrawn in the
 * meantime is passed over; returns those that were marked. Throws NotWritten or RegisterBusy.
 */
export function markSent(
  folder: string,
  made: readonly string[],
  { by, how, on }: Sending,
): RegisteredDocument[] {
  return whileHeld(folder, made, ["waiting"], (document) => ({
    kind: "sent" as const,
    at: now(),
    by,
    ...ofDocument(document),
    how,
    on,
  }));
}

/** A notice that a sent document is withdrawn, and the document it speaks of. */
export interface Notice {
  readonly of: RegisteredDocument;
  readonly name: string;
  readonly pages: number;
  readonly bytes: Uint8Array;
  /** ISO day of the notice. */
  readonly on: string;
}

export interface Withdrawing {
  readonly by: string;
  readonly reason: string;
  /** Written into the register as made, with what they withdraw; then they wait to be sent. */
  readonly notices?: readonly Notice[];
}

/** Marks documents as withdrawn, sent ones too. */
export function withdraw(
  folder: string,
  made: readonly string[],
  { by, reason, notices = [] }: Withdrawing,
): RegisteredDocument[] {
  const kept = notices.map(({ bytes }): Kept => ({ bytes, kind: "pdf" }));
  const hashes = keepContent(folder, kept);
  return whileHeld(
    folder,
    made,
    ["waiting", "sent", "replaced"],
    (document) => ({ kind: "withdrawn" as const, at: now(), by, ...ofDocument(document), reason }),
    notices.map(({ of, name, pages, on }, i) => {
      const { visit, patient, edition, addressee, seal } = of.made;
      const said = { kind: "made" as const, at: now(), by, visit, patient, edition, addressee, seal };
      return {
        ...said,
        document: WITHDRAWAL,
        sha256: hashes[i] ?? "",
        dated: on,
        name,
        pages,
        how: "register",
      };
    }),
  );
}

function whileHeld(
  folder: string,
  made: readonly string[],
  states: readonly RegisteredDocument["state"][],
  entry: (document: RegisteredDocument) => CallerEntry,
  also: readonly CallerEntry[] = [],
): RegisteredDocument[] {
  const wanted = new Set(made);
  return holding(folder, (lock) => {
    const { lines, doubtful } = chainOf(folder);
    const all = [...lines, ...doubtful].filter((line) => "visit" in line);
    const visits = new Set(all.flatMap(({ hash, visit }) => (wanted.has(hash) ? [visit] : [])));
    const open = documentsIn(all.filter(({ visit }) => visits.has(visit))).filter(
      (document) => wanted.has(document.made.hash) && states.includes(document.state),
    );
    if (open.length > 0) addLines(folder, [...open.map(entry), ...also], lock);
    return open;
  });
}

function ofDocument({ made }: RegisteredDocument) {
  const { visit, patient, edition, document, addressee, sha256, hash } = made;
  return { visit, patient, edition, document, addressee, sha256, of: hash };
}
