/** Signing: everything that is still open is told before anyone can sign, and a signature is given on that list and no other. */

import { readFileSync } from "node:fs";
import { hasError } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import { leftOut } from "../letter/what-prints.js";
import { recordMade, signedVisit } from "../register/record.js";
import { momentOf, nextEdition, signatureOf, waitingReason } from "../register/sign.js";
import { photosHash } from "../visit/beside-photo.js";
import type { Signed } from "../visit/visit.js";
import type { Desk } from "./desk.js";
import { editText, writtenIn } from "./edit-yaml.js";
import { HttpError } from "./http-error.js";
import type { Edit, OpenPoint, Signing, Written } from "./messages.js";
import { readAtDesk } from "./read-at-desk.js";
import { isMap, mapIn, wordIn } from "./read-listed.js";
import type { Session } from "./session.js";
import { printProblems, say, weighText } from "./weighed.js";

/** What is open in a visit as it stands. */
export async function signingOf(session: Session, desk: Desk): Promise<Signing> {
  // Some things may be open in a draft and may not once it is signed.
  const people = Object.entries(desk.clinicOf(session.path).clinic?.people ?? {});
  const someone = people.find(([, { maySign }]) => maySign)?.[0] ?? "nobody";
  const signed = editText(session.text, trialOf(someone, session, desk), desk.schema);
  const { weighed, problems } = weighText(signed, session.path, desk);
  say(session, desk, { pane: "problems" }, "weighed");
  const printing = hasError(problems) ? [] : await printProblems(session, desk);
  const errors = [...problems, ...printing].filter(({ severity }) => severity === "error");
  const raised = weighed?.examined.interpretation.mustNotMiss ?? [];
  const open: OpenPoint[] = [
    ...raised
      .filter(({ answeredByPlan }) => !answeredByPlan)
      .map(
        ({ id, why, urgency, who }): OpenPoint => ({
          kind: "must not be missed",
          id,
          says: `${why} (${urgency}; ${who})`,
        }),
      ),
    ...[...problems, ...printing]
      // What must not be missed stands above, in its own words.
      .filter(({ severity, id }) => severity === "warning" && id !== "must-not-miss-open")
      .map(
        ({ id, message, path }): OpenPoint => ({
          kind: "warning",
          id,
          says: message,
          ...(path === undefined ? {} : { path }),
        }),
      ),
    ...(weighed?.examined.interpretation.askedFor ?? []).map(
      ({ id, question, urgency, why }): OpenPoint => ({
        kind: "not asked",
        id,
        says: `${question} (${urgency} if yes) ${why}`,
        path: "asked",
      }),
    ),
    ...unprinted(signed),
  ];
  return { open, errors, digest: digestOf(open, session.text) };
}

/** The edition that a signature given now makes, and whether anyone has said why it replaces the one before. */
export function editionNow(
  session: Session,
  desk: Desk,
): { readonly edition: number; readonly needsReason: boolean } {
  const { value: visit } = readAtDesk(session.text, session.path, desk);
  if (!visit) return { edition: 1, needsReason: false };
  const edition = nextEdition(visit, desk.registers.linesFor(session.path, visit.id));
  return { edition, needsReason: edition > 1 && waitingReason(visit) === undefined };
}

/** A signature without a seal, to see what stands in the way of one. */
function trialOf(by: string, session: Session, desk: Desk): Edit[] {
  const { value: visit } = readAtDesk(session.text, session.path, desk);
  const edition = visit && nextEdition(visit, desk.registers.linesFor(session.path, visit.id));
  return signatureEdits({ by, at: momentOf(new Date(0)), ...(edition === undefined ? {} : { edition }) });
}

/** What was recorded and stands in no document that leaves the clinic. */
function unprinted(text: string): OpenPoint[] {
  const written = writtenIn(text) ?? {};
  const handout = new Set(leftOut("handout").map(({ key }) => key));
  return leftOut("letter")
    .filter(({ key }) => handout.has(key) && !BOOKKEEPING.has(key) && isWritten(written, key.split(".")))
    .map(({ key, why }) => ({
      kind: "not printed",
      id: key,
      says: `${key.replaceAll("_", " ").replaceAll(".", ", ")}: ${why}`,
    }));
}

/** Keys that say nothing of the patient, and those that the letter prints in another shape. */
const BOOKKEEPING: ReadonlySet<string> = new Set([
  "format",
  "patient.language",
  "patient.large_print",
  "send_to.purpose",
  "sites.at.x",
  "sites.at.y",
  "sites.fields.hairs",
  "sites.fields.thin",
  "sites.fields.vellus",
  "sites.fields.units",
  "sites.diameters_um",
  "sites.photos.file",
  "sites.photos.field",
  "impression.in_handout",
  "plan.answers",
  "accept.id",
  "accept.reason",
  "signed.seal",
]);

function isWritten(value: Written | undefined, [step, ...rest]: readonly string[]): boolean {
  if (value === undefined || value === null) return false;
  if (Array.isArray(value))
    return value.some((entry: Written) => isWritten(entry, step === undefined ? [] : [step, ...rest]));
  if (step === undefined) return true;
  return isMap(value) && isWritten(value[step], rest);
}

const digestOf = (open: readonly OpenPoint[], text: string): string =>
  sha256(JSON.stringify([open, sha256(text)])).slice(0, 32);

/** Throws Refused unless this person may sign, nothing is in the way, and the list is the one that was read. */
export async function checkSigning(session: Session, desk: Desk, by: string, digest: string): Promise<void> {
  const { clinic } = desk.clinicOf(session.path);
  const person = clinic && Object.hasOwn(clinic.people, by) ? clinic.people[by] : undefined;
  if (!person?.maySign) throw new HttpError(422, "Choose who signs: somebody who may sign letters.");
  const now = await signingOf(session, desk);
  if (now.errors.length > 0) throw new HttpError(422, "The visit cannot be signed yet.", now.errors);
  if (now.digest !== digest) throw new HttpError(409, "What stands open has changed. Read the list again.");
}

/** The edits of a signature given now: the first edition, or the next one with the reason that reopening left. */
export function signing(session: Session, desk: Desk, by: string, at: Date, reason?: string): Edit[] {
  const { value: visit, problems } = readAtDesk(session.text, session.path, desk);
  if (!visit) throw new HttpError(422, "The visit cannot be signed yet.", problems);
  return signatureEdits(
    signatureOf(visit, {
      by,
      at,
      photos: photosHash(visit, session.path),
      ...(reason ? { reason } : {}),
      lines: desk.registers.linesFor(session.path, visit.id),
    }),
  );
}

/** A signature as edits of the visit file. */
export function signatureEdits({ edition, ...signed }: Signed): Edit[] {
  const value = { ...signed, ...(edition === undefined ? {} : { edition: String(edition) }) };
  return [
    { do: "set", path: ["visit", "status"], value: "signed" },
    { do: "set", path: ["signed"], value },
  ];
}

/** Keeps a visit as it was signed, in the register of its clinic; begins the register where there is none. */
export function registerSigning(session: Session, desk: Desk): void {
  const folder = desk.registers.folderFor(session.path);
  const { value: visit } = readAtDesk(session.text, session.path, desk);
  const signed = visit && signedVisit(visit);
  if (folder === undefined || !signed) return;
  const text = () => readFileSync(session.path);
  recordMade(folder, [{ signed, text, documents: [] }], { how: "sign" });
}

/** The edits that make a signed visit a draft again; the reason waits in the file for the next edition. */
export function reopening(text: string, reason: string): Edit[] {
  const written = writtenIn(text) ?? undefined;
  const visit = mapIn(written, "visit");
  const before = mapIn(written, "signed");
  const status: Edit = { do: "set", path: ["visit", "status"], value: "draft" };
  if (before) return [status, { do: "set", path: ["signed", "reason"], value: reason }];
  // Signed before the moment was kept: such a letter gave the day of the visit as the day of signing.
  const value = { by: wordIn(visit, "seen_by"), at: `${wordIn(visit, "date")}T00:00`, reason };
  return [status, { do: "set", path: ["signed"], value }];
}
