/** What the register says of a visit's documents, and a person's word that some of them have left the clinic. Nothing is sent by this. */
import { documentsIn, type RegisteredDocument } from "../register/documents.js";
import { markSent } from "../register/sending.js";
import type { Desk } from "./desk.js";
import { HttpError } from "./http-error.js";
import type { LeftDocument } from "./messages.js";
import { readAtDesk } from "./read-at-desk.js";
import type { Session } from "./session.js";

export function documentsOf(session: Session, desk: Desk): LeftDocument[] {
  return registered(session, desk).map(({ made, sent, withdrawn, state }) => ({
    id: made.hash,
    kind: made.document,
    reader: made.addressee?.name ?? "",
    edition: made.edition,
    dated: made.dated,
    state,
    left: sent.map(({ on, how, by }) => ({ on, how, by })),
    why: withdrawn?.reason ?? "",
  }));
}

/** Marks documents that still wait; what was sent, replaced or withdrawn since it was shown is refused as a whole. */
export function markLeft(
  session: Session,
  desk: Desk,
  {
    ids,
    by,
    how,
    on,
  }: { readonly ids: readonly string[]; readonly by: string; readonly how: string; readonly on: string },
): LeftDocument[] {
  const folder = desk.registers.begunFor(session.path);
  const { clinic } = desk.clinicOf(session.path);
  if (folder === undefined)
    throw new HttpError(409, "The clinic has no register yet: it begins with the first signature.");
  if (!clinic || !Object.hasOwn(clinic.people, by)) throw new HttpError(422, "Choose who says so.");
  if (on > desk.today()) throw new HttpError(422, "That day is still to come.");
  const waiting = new Set(
    registered(session, desk).flatMap(({ made, state }) => (state === "waiting" ? [made.hash] : [])),
  );
  if (!ids.every((id) => waiting.has(id)))
    throw new HttpError(409, "What waits has changed. Look at the list again.");
  markSent(folder, ids, { by, how, on });
  return documentsOf(session, desk);
}

function registered(session: Session, desk: Desk): RegisteredDocument[] {
  const visit = readAtDesk(session.text, session.path, desk).value?.id;
  return visit === undefined ? [] : documentsIn(desk.registers.linesFor(session.path, visit));
}
