/** A person says that documents have left the clinic, or are not to leave it. */
import { addLines, holding, now } from "./append.js";
import { documentsIn, type RegisteredDocument } from "./documents.js";
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

/** Marks documents as withdrawn, sent ones too. */
export function withdraw(
  folder: string,
  made: readonly string[],
  { by, reason }: { readonly by: string; readonly reason: string },
): RegisteredDocument[] {
  return whileHeld(folder, made, ["waiting", "sent", "replaced"], (document) => ({
    kind: "withdrawn" as const,
    at: now(),
    by,
    ...ofDocument(document),
    reason,
  }));
}

function whileHeld(
  folder: string,
  made: readonly string[],
  states: readonly RegisteredDocument["state"][],
  entry: (document: RegisteredDocument) => Parameters<typeof addLines>[1][number],
): RegisteredDocument[] {
  const wanted = new Set(made);
  return holding(folder, (lock) => {
    const { lines, doubtful } = chainOf(folder);
    const all = [...lines, ...doubtful].filter((line) => "visit" in line);
    const visits = new Set(all.flatMap(({ hash, visit }) => (wanted.has(hash) ? [visit] : [])));
    const open = documentsIn(all.filter(({ visit }) => visits.has(visit))).filter(
      (document) => wanted.has(document.made.hash) && states.includes(document.state),
    );
    addLines(folder, open.map(entry), lock);
    return open;
  });
}

function ofDocument({ made }: RegisteredDocument) {
  const { visit, patient, edition, document, addressee, sha256, hash } = made;
  return { visit, patient, edition, document, addressee, sha256, of: hash };
}
