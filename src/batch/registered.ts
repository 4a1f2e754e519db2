/**
 * A run and the registers of its clinics: what it made goes in, and what was sent already is told apart, so that no print run
 * holds it again. A clinic whose register has not begun is left alone.
 */
import { createHash } from "node:crypto";
import { createReadStream } from "node:fs";
import { basename, join } from "node:path";
import { groupBy } from "../base/group.js";
import { sha256 } from "../base/sha256.js";
import { ClinicFiles } from "../clinic-folder/clinic-file.js";
import { appendToRegister, now } from "../register/append.js";
import { ClinicRegisters } from "../register/clinic-registers.js";
import { documentsIn, type RegisteredDocument, readerKey } from "../register/documents.js";
import { bytesOf } from "../register/kept.js";
import type { Addressee } from "../register/line.js";
import { readRegister } from "../register/read.js";
import { type DocumentMade, recordMade, type VisitMade } from "../register/record.js";
import { readText } from "../visit/read.js";
import type { Manifest, ManifestDocument, ManifestVisit } from "./manifest.js";
import type { DocumentRecord, VisitRecord } from "./records.js";
import type { Source } from "./source.js";

/** Registers the signed documents of a finished run. Throws NotWritten or RegisterBusy. */
export function registerRun(
  folder: string,
  source: Source,
  finished: ReadonlyMap<string, VisitRecord>,
  clinicFile: string | undefined,
): void {
  const registers = new ClinicRegisters(new ClinicFiles(clinicFile));
  const fileOf = new Map(source.items.map(({ key, file }) => [key, file]));
  const made = [...finished.values()].flatMap((record): { clinic: string; visit: VisitMade }[] => {
    const file = fileOf.get(record.key);
    const clinic = file === undefined ? undefined : registers.begunFor(file);
    const { signed } = record;
    if (file === undefined || clinic === undefined || !signed) return [];
    const documents = record.documents
      .filter(({ state }) => state === "ready")
      .map((one) => documentMade(folder, one));
    const planned = source.visits.scan(file).hash;
    return documents.length === 0
      ? []
      : [{ clinic, visit: { signed, documents, text: () => textAsMade(file, planned) } }];
  });
  for (const [clinic, group] of groupBy(made, ({ clinic }) => clinic))
    recordMade(
      clinic,
      group.map(({ visit }) => visit),
      { how: "batch" },
    );
}

function documentMade(folder: string, record: DocumentRecord): DocumentMade {
  const { document, pages, sha256: hash } = record;
  const file = join(folder, record.file);
  return {
    document,
    addressee: addresseeOf(record),
    name: basename(file),
    pages,
    sha256: hash,
    bytes: () => bytesOf(file),
  };
}

const addresseeOf = ({ recipient }: DocumentRecord): Addressee | null =>
  recipient && { name: recipient.name, role: recipient.role, copy: recipient.copy };

/** The visit file, while it is still the text that the run planned with. */
function textAsMade(file: string, planned: string): Uint8Array | undefined {
  const text = readText(file).value;
  return text !== undefined && sha256(text) === planned ? bytesOf(file) : undefined;
}

/** The manifest with what the registers of its clinics say now of each document: that it was sent, or withdrawn. */
export function withRegister(manifest: Manifest): Manifest {
  const registered = registeredOf(manifest);
  return {
    ...manifest,
    documents: manifest.documents.map((document) => {
      const { closed_at: _, ...row } = document;
      const known = registered(document);
      const last = known.at(-1);
      const at = known.find(({ sent }) => sent.length > 0)?.sent[0]?.at ?? last?.withdrawn?.at;
      return at === undefined ? row : { ...row, closed_at: at };
    }),
  };
}

/** Says in the registers which documents a print run holds. Throws NotWritten or RegisterBusy. */
export async function registerPrintRun(
  manifest: Manifest,
  file: string,
  documents: readonly ManifestDocument[],
  pages: number,
): Promise<void> {
  const registered = registeredOf(manifest);
  const lines = documents.flatMap((document) => {
    const made = registered(document).findLast(({ made: one }) => one.sha256 === document.sha256);
    return made ? [{ clinic: clinicOf(manifest, document), hash: made.made.hash }] : [];
  });
  if (lines.length === 0) return;
  const hash = await fileHash(file);
  for (const [clinic, group] of groupBy(lines, (line) => line.clinic ?? ""))
    appendToRegister(clinic, [
      {
        kind: "printed",
        at: now(),
        by: "",
        name: basename(file),
        sha256: hash,
        pages,
        documents: group.map((line) => line.hash),
      },
    ]);
}

/** What the register of its clinic holds of a document: for the same reader, of the same edition and content, or the same bytes. */
function registeredOf(manifest: Manifest): (document: ManifestDocument) => readonly RegisteredDocument[] {
  const clinics = new Map<string, ReadonlyMap<string, readonly RegisteredDocument[]>>();
  const inClinic = (clinic: string) => {
    const known = clinics.get(clinic);
    if (known) return known;
    const { lines, doubtful } = readRegister(clinic);
    const byKey = groupBy(documentsIn([...lines, ...doubtful]), ({ made }) => readerKey(made));
    clinics.set(clinic, byKey);
    return byKey;
  };
  return (document) => {
    const clinic = clinicOf(manifest, document);
    const signed = visitOf(manifest, document)?.signed;
    if (clinic === undefined || !signed) return [];
    const { visit } = document;
    const one = { visit, document: document.document, addressee: addresseeOf(document) };
    return (inClinic(clinic).get(readerKey(one)) ?? []).filter(
      ({ made }) =>
        made.sha256 === document.sha256 || (made.edition === signed.edition && made.seal === signed.seal),
    );
  };
}

const rows = new WeakMap<Manifest, ReadonlyMap<string, ManifestVisit>>();

function visitOf(manifest: Manifest, { source }: ManifestDocument): ManifestVisit | undefined {
  const known = rows.get(manifest) ?? new Map(manifest.visits.map((visit) => [visit.source, visit]));
  rows.set(manifest, known);
  return known.get(source);
}

/** The folder of the clinic that a document belongs to, where its register has begun. */
function clinicOf(manifest: Manifest, document: ManifestDocument): string | undefined {
  const visit = visitOf(manifest, document);
  return visit && new ClinicRegisters(new ClinicFiles(visit.clinic_file)).begunFor(visit.file);
}

async function fileHash(file: string): Promise<string> {
  const hash = createHash("sha256");
  for await (const piece of createReadStream(file)) hash.update(piece as Uint8Array);
  return hash.digest("hex");
}
