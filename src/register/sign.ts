/** The act of signing, as it goes into the visit file. */
import { newSeal } from "../visit/seal.js";
import type { Signed, Visit } from "../visit/visit.js";
import type { RegisterLine, SignedLine } from "./line.js";

export interface SigningOf {
  /** Key of the person in the clinic file. */
  readonly by: string;
  readonly at: Date;
  /** Hash over the bytes of the visit's photos, where it has any. */
  readonly photos: string | undefined;
  /** Why it is signed again; else what stands in the file from when it was reopened. */
  readonly reason?: string;
  /** What the register says so far. */
  readonly lines: readonly RegisterLine[];
}

/** Number of the edition that a signature given now makes: one more than the file or the register knows. */
export function nextEdition(visit: Visit, lines: readonly RegisterLine[]): number {
  const known = lines.flatMap((line) =>
    (line.kind === "signed" || line.kind === "made") && line.visit === visit.id ? [line.edition] : [],
  );
  return Math.max(visit.signed ? (visit.signed.edition ?? 1) : 0, ...known) + 1;
}

/** The signature of a visit as it stands. */
export function signatureOf(visit: Visit, { by, at, photos, reason, lines }: SigningOf): Signed {
  const edition = nextEdition(visit, lines);
  const why = reason ?? waitingReason(visit);
  return {
    by,
    at: momentOf(at),
    seal: newSeal(visit, photos),
    ...(edition > 1 ? { edition, ...(why ? { reason: why } : {}) } : {}),
  };
}

/** Why a visit that was signed before is a draft again, where somebody wrote it down. */
export function waitingReason(visit: Visit): string | undefined {
  return visit.status === "draft" ? visit.signed?.reason : undefined;
}

/** The line that tells of the signature that the visit carries, whether or not the visit still says what was signed. */
export function signedLineOf(lines: readonly RegisterLine[], visit: Visit): SignedLine | undefined {
  return lines.findLast(
    (line): line is SignedLine =>
      line.kind === "signed" && line.visit === visit.id && line.seal === visit.signed?.seal,
  );
}

/** To the minute, by the clock on the wall, with its distance from Greenwich. */
export function momentOf(at: Date): string {
  const two = (n: number) => String(Math.floor(Math.abs(n))).padStart(2, "0");
  const ahead = -at.getTimezoneOffset();
  const day = `${at.getFullYear()}-${two(at.getMonth() + 1)}-${two(at.getDate())}`;
  const zone = `${ahead < 0 ? "-" : "+"}${two(ahead / 60)}:${two(ahead % 60)}`;
  return `${day}T${two(at.getHours())}:${two(at.getMinutes())}${zone}`;
}
