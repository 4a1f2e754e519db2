/**
 * Writes into the register what was signed and made. Content is kept before the line that names it, and what the register says
 * already is not said again, so whoever was killed in between may simply come again.
 */
import { sha256 } from "../base/sha256.js";
import { letterDay } from "../letter/signing.js";
import { sealOf } from "../visit/seal.js";
import type { Visit } from "../visit/visit.js";
import { addLines, holding, now } from "./append.js";
import { readerKey } from "./documents.js";
import { editionOf } from "./editions.js";
import { keepContent } from "./kept.js";
import type { Addressee, CallerEntry, MadeLine, RegisterLine } from "./line.js";
import { chainOf } from "./read.js";

/** A signed visit, as far as the register speaks of it. Plain data. */
export interface SignedVisit {
  readonly visit: string;
  readonly patient: string;
  readonly edition: number;
  /** Day of the visit. */
  readonly date: string;
  /** Day that its letters give as their own. */
  readonly dated: string;
  readonly by: string;
  readonly signedAt: string;
  readonly seal: string;
  readonly reason: string;
}

/** Undefined for a draft. */
export function signedVisit(visit: Visit): SignedVisit | undefined {
  if (visit.status !== "signed") return undefined;
  const { signed } = visit;
  return {
    visit: visit.id,
    patient: visit.patient.id,
    edition: editionOf(visit),
    date: visit.date,
    dated: letterDay(visit),
    by: signed?.by ?? visit.seenBy,
    signedAt: signed?.at ?? "",
    seal: sealOf(visit),
    reason: signed?.reason ?? "",
  };
}

export interface DocumentMade {
  /** Kind of the document. */
  readonly document: string;
  readonly addressee: Addressee | null;
  readonly name: string;
  readonly pages: number;
  readonly sha256: string;
  /** Its bytes; undefined where they cannot be had any more. */
  readonly bytes: () => Uint8Array | undefined;
}

export interface VisitMade {
  readonly signed: SignedVisit;
  /** The visit file as it was signed; undefined where it cannot be had any more. */
  readonly text: () => Uint8Array | undefined;
  readonly documents: readonly DocumentMade[];
}

export interface Recording {
  readonly how: "letter" | "batch" | "desk" | "sign";
  /** True when a document that was withdrawn counts as made again. */
  readonly again?: boolean;
}

/** Begins the register of a folder where there is none. Throws NotWritten or RegisterBusy. */
export function recordMade(folder: string, visits: readonly VisitMade[], { how, again }: Recording): void {
  holding(folder, (lock) => {
    const chain = chainOf(folder);
    const own = new Set(visits.map(({ signed }) => signed.visit));
    const lines = [...chain.lines, ...chain.doubtful].filter(
      (line) => "visit" in line && own.has(line.visit),
    );
    const known = knownIn(lines, again ?? false);
    const entries = visits.flatMap((visit) => entriesOf(folder, visit, how, known));
    addLines(folder, entries, lock);
  });
}

interface Known {
  readonly signed: Set<string>;
  readonly made: Set<string>;
}

const signedKey = (one: { readonly visit: string; readonly edition: number; readonly seal: string }) =>
  JSON.stringify([one.visit, one.edition, one.seal]);

const madeKey = (one: Pick<MadeLine, "visit" | "document" | "addressee" | "sha256">) =>
  `${readerKey(one)} ${one.sha256}`;

function knownIn(lines: readonly RegisterLine[], again: boolean): Known {
  const withdrawn = new Set(lines.flatMap((line) => (again && line.kind === "withdrawn" ? [line.of] : [])));
  return {
    signed: new Set(lines.flatMap((line) => (line.kind === "signed" ? [signedKey(line)] : []))),
    made: new Set(
      lines.flatMap((line) => (line.kind === "made" && !withdrawn.has(line.hash) ? [madeKey(line)] : [])),
    ),
  };
}

function entriesOf(
  folder: string,
  { signed, text, documents }: VisitMade,
  how: string,
  known: Known,
): CallerEntry[] {
  const entries: CallerEntry[] = [];
  const { visit, patient, edition, seal, dated } = signed;
  const own = text();
  if (!known.signed.has(signedKey(signed)) && own) {
    known.signed.add(signedKey(signed));
    const [hash = ""] = keepContent(folder, [{ bytes: own, kind: "txt" }]);
    const { by, date, signedAt: signed_at, reason } = signed;
    const said = { kind: "signed", at: now(), by, visit, patient, edition } as const;
    entries.push({ ...said, date, signed_at, seal, text: hash, reason });
  }
  const fresh = documents.filter((one) => !known.made.has(madeKey({ visit, ...one })));
  for (const { bytes, ...document } of fresh) {
    const made = bytes();
    // What is no longer the document that was made is not vouched for.
    if (!made || sha256(made) !== document.sha256) continue;
    keepContent(folder, [{ bytes: made, kind: "pdf" }]);
    known.made.add(madeKey({ visit, ...document }));
    const said = { kind: "made", at: now(), by: "", visit, patient, edition } as const;
    entries.push({ ...said, seal, dated, how, ...document });
  }
  return entries;
}
