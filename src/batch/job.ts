/** What a worker does with one visit: make its documents, or read them back. No writing here. */
import type { Problem } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import type { Named } from "../clinic-folder/scan.js";
import { VisitReader } from "../clinic-folder/visit-reader.js";
import { type Extract, extractOf } from "../due/extract.js";
import { loadKnowledge } from "../knowledge/load.js";
import type { Knowledge } from "../knowledge/schema.js";
import { composeLetter, packFor } from "../letter/letter.js";
import { renderPdf } from "../page/pdf.js";
import type { KnownEditions } from "../register/editions.js";
import { bytesOf } from "../register/kept.js";
import { type SignedVisit, signedVisit } from "../register/record.js";
import { type Clinic, readClinic } from "../visit/clinic.js";
import type { Recipient, Visit } from "../visit/visit.js";
import { hashClinic, type Inputs, type MakeSettings } from "./fingerprint.js";
import { addressees, replacing } from "./make.js";
import { makeProofed } from "./make-proofed.js";
import { meaningOf } from "./meanings.js";
import { type Reason, reason, reasonFrom } from "./outcome.js";
import { readPictures } from "./pictures.js";
import { postalCode } from "./postal-code.js";
import { type Prepared, prepareVisit } from "./prepare.js";
import { PatientIndex } from "./proof/patient-index.js";
import { proofDocument } from "./proof/proof-document.js";
import { drawsTheSame } from "./proof/redrawn.js";
import type { DocumentRecord, VisitState } from "./records.js";
import type { Overrides } from "./source.js";

/** The same for every visit of a run. */
export interface JobSettings extends MakeSettings {
  readonly today: string;
  readonly people: readonly Named[];
}

export interface VisitToRead {
  readonly file: string;
  readonly beside: readonly string[];
  readonly clinicFile: string;
  /** As planned; a worker that read another clinic file reads it again. */
  readonly clinicHash?: string;
  readonly overrides: Overrides;
  /** What the register says of the visit's letters so far. */
  readonly editions?: KnownEditions;
}

export interface MadeFile {
  readonly record: Omit<DocumentRecord, "file">;
  readonly name: string;
  readonly bytes: Uint8Array;
}

export interface MadeVisit {
  readonly state: VisitState;
  /** Empty when the file could not be read. */
  readonly visit: string;
  readonly files: readonly MadeFile[];
  readonly reasons: readonly Reason[];
  /** Whose signature its documents bear; none for a draft. */
  readonly signed?: SignedVisit;
}

interface ReadClinic extends ReturnType<typeof readClinic> {
  readonly hash: string;
}

export interface MadeFrom extends MadeVisit {
  /** The files as they were read for it. */
  readonly read: Inputs;
  /** What the visit was found to be when it was weighed; none of one that may not be printed. */
  readonly extract?: Extract;
}

/** A document on disk that is to be held against its visit. */
export interface DocumentToProof {
  readonly path: string;
  readonly record: DocumentRecord;
}

/** Does the jobs of one run; keeps knowledge, clinics, templates and the roll of patients between them. */
export class Jobs {
  private readonly knowledge: Knowledge = loadKnowledge();
  private readonly roll: PatientIndex;
  private readonly reader: VisitReader;
  private readonly clinics = new Map<string, ReadClinic>();

  constructor(private readonly settings: JobSettings) {
    this.roll = new PatientIndex(settings.people);
    this.reader = new VisitReader(this.knowledge, settings.today);
  }

  async make(visit: VisitToRead): Promise<MadeFrom> {
    this.reader.takeHashes();
    const clinicHash = this.clinicOf(visit).hash;
    const ready = this.prepare(visit);
    const { [visit.file]: own = "", ...beside } = this.reader.takeHashes();
    const read: Inputs = { visit: own, beside, clinic: clinicHash, photos: {} };
    const id = ready.seen?.id ?? "";
    if (!ready.value || !ready.clinic)
      return { read, state: "failed", visit: id, files: [], reasons: ready.reasons };
    const { measures, interpretation } = ready.value.examined;
    const extract = extractOf(ready.value.examined.visit, measures, interpretation, this.knowledge);
    if (ready.value.examined.visit.status === "draft" && !this.settings.drafts)
      return { read, state: "waiting", visit: id, files: [], reasons: [], extract };
    const { made, problems, photos, faults } = await makeProofed(ready.value.examined, {
      knowledge: this.knowledge,
      clinic: ready.clinic,
      documents: visit.overrides.documents ?? this.settings.documents,
      proof: this.settings.proof,
      people: this.settings.people,
      overrides: this.overrides(visit.overrides, ready.value),
      ...(visit.editions ? { editions: visit.editions } : {}),
    });
    if (made.length === 0) {
      const errors = errorsOf(problems);
      const reasons = errors.length > 0 ? errors : [reason("nothing-made")];
      return { read: { ...read, photos }, state: "failed", visit: id, files: [], reasons };
    }
    const recipients = addressees(ready.value.examined.visit.sendTo);
    const { visit: examined } = ready.value.examined;
    const isDraft = examined.status === "draft";
    const files = made.map((document, i): MadeFile => {
      const own = faults ? (faults[i] ?? []) : null;
      return {
        name: document.name,
        bytes: document.bytes,
        record: {
          visit: document.visit,
          patient: document.patient,
          document: document.kind,
          recipient: document.recipient && recipientRecord(document.recipient, recipients),
          pages: document.pages,
          sha256: document.sha256,
          paper: document.letter.paper,
          state: own && own.length > 0 ? "set aside" : isDraft ? "draft" : "ready",
          faults: own,
        },
      };
    });
    const reasons = files.flatMap((f) => f.record.faults ?? []);
    const state = reasons.length > 0 ? "failed" : "made";
    const signed = signedVisit(examined);
    return {
      read: { ...read, photos },
      state,
      visit: id,
      files,
      reasons,
      extract,
      ...(signed ? { signed } : {}),
    };
  }

  /** Faults of documents of one visit, in their order: the bytes against the manifest, the words against the visit. */
  async proof(visit: VisitToRead, documents: readonly DocumentToProof[]): Promise<Reason[][]> {
    const ready = this.prepare(visit);
    const faults: Reason[][] = [];
    for (const document of documents) {
      if (!ready.value || !ready.clinic) faults.push([reason("visit-changed"), ...ready.reasons]);
      else faults.push(await this.proofOne(document, visit, ready.value, ready.clinic));
    }
    return faults;
  }

  private async proofOne(
    { path, record }: DocumentToProof,
    visit: VisitToRead,
    prepared: Prepared,
    clinic: Clinic,
  ): Promise<Reason[]> {
    const bytes = bytesOf(path);
    if (!bytes) return [reason("missing-document")];
    const { examined } = prepared;
    const input = {
      visit: examined.visit,
      measures: examined.measures,
      interpretation: examined.interpretation,
      ...(examined.cameSince ? { cameSince: examined.cameSince } : {}),
      clinic,
      knowledge: this.knowledge,
      pictures: readPictures(examined.file, examined.visit, clinic).pictures,
      ...this.overrides(visit.overrides, prepared),
    };
    const recipient = record.recipient
      ? (addressees(examined.visit.sendTo)[record.recipient.index] ?? null)
      : null;
    const { pack } = packFor(record.document, input);
    const head = pack?.documents[record.document]?.head;
    const letter = composeLetter(record.document, {
      ...input,
      ...(recipient ? { recipient } : {}),
      ...replacing(examined.visit, visit.editions, recipient),
    }).value;
    const isSame = examined.visit.id === record.visit && examined.visit.patient.id === record.patient;
    if (!pack || !head || !letter || !isSame || (record.recipient && !recipient))
      return [reason("visit-changed")];
    const changed = sha256(bytes) === record.sha256 ? [] : [reason("not-as-made")];
    const found = await proofDocument({
      ...examined,
      bytes,
      letter,
      reader: head.reader,
      pack,
      recipient,
      clinic,
      knowledge: this.knowledge,
      pages: record.pages,
      roll: this.roll,
    });
    const again = await renderPdf(letter);
    const isDrawnAlike = again.value !== undefined && drawsTheSame(bytes, again.value.bytes);
    return [...changed, ...found, ...(isDrawnAlike ? [] : [reason("drawn-differently")])];
  }

  private prepare(visit: VisitToRead): {
    value?: Prepared;
    clinic?: Clinic;
    seen?: Visit;
    reasons: Reason[];
  } {
    const clinic = this.clinicOf(visit);
    if (!clinic.value) return { reasons: errorsOf(clinic.problems) };
    const { file, beside, editions } = visit;
    const prepared = prepareVisit({
      file,
      beside,
      clinic: clinic.value,
      reader: this.reader,
      ...(editions ? { editions } : {}),
    });
    return {
      ...(prepared.value ? { value: prepared.value } : {}),
      ...(prepared.seen ? { seen: prepared.seen } : {}),
      clinic: clinic.value,
      reasons: errorsOf(prepared.problems),
    };
  }

  /** The clinic file, with the hash of what was read: nothing of it changed while it was read. */
  private clinicOf({ clinicFile, clinicHash }: VisitToRead): ReadClinic {
    const known = this.clinics.get(clinicFile);
    if (known && (clinicHash === undefined || known.hash === clinicHash)) return known;
    let hash = hashClinic(clinicFile);
    let clinic = readClinic(clinicFile);
    for (let after = hashClinic(clinicFile); after !== hash; after = hashClinic(clinicFile)) {
      hash = after;
      clinic = readClinic(clinicFile);
    }
    const read = { ...clinic, hash };
    this.clinics.set(clinicFile, read);
    return read;
  }

  private overrides(own: Overrides, prepared: Prepared) {
    const paper = own.paper ?? this.settings.paper;
    const language = own.language ?? this.settings.language;
    const largePrint = own.largePrint ?? this.settings.largePrint;
    const { templates } = this.settings;
    return {
      ...(prepared.change ? { change: prepared.change } : {}),
      ...(paper ? { paper } : {}),
      ...(language ? { language } : {}),
      ...(largePrint === undefined ? {} : { largePrint }),
      ...(templates ? { templates } : {}),
    };
  }
}

/** Enough to see what is wrong; `whorl check` shows the rest. */
const MOST_REASONS = 12;

function errorsOf(problems: readonly Problem[]): Reason[] {
  const errors = problems.filter((p) => p.severity === "error").map((p) => reasonFrom(p, meaningOf));
  return errors.slice(0, MOST_REASONS);
}

function recipientRecord(recipient: Recipient, all: readonly Recipient[]): DocumentRecord["recipient"] {
  return {
    index: all.indexOf(recipient),
    name: recipient.name,
    role: recipient.role,
    copy: recipient.copy,
    postal_code: postalCode(recipient.address),
  };
}
