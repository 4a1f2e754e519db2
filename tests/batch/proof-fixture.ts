/** A visit with its letter and handout, made in this process, ready to be tampered with. */
import { readFileSync } from "node:fs";
import { inPackage } from "../../src/base/root.js";
import { type MadeDocument, makeDocuments } from "../../src/batch/make.js";
import { type Prepared, prepareVisit } from "../../src/batch/prepare.js";
import { PatientIndex } from "../../src/batch/proof/patient-index.js";
import { type ProofInput, proofDocument } from "../../src/batch/proof/proof-document.js";
import { type Named, scanVisit } from "../../src/clinic-folder/scan.js";
import { VisitReader } from "../../src/clinic-folder/visit-reader.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { renderPdf } from "../../src/page/pdf.js";
import { readClinic } from "../../src/visit/clinic.js";

export const knowledge = loadKnowledge();
const reader = new VisitReader(knowledge, "2027-01-01");
const clinicRead = readClinic(inPackage("examples", "clinic.yaml")).value;
if (!clinicRead) throw new Error("the example clinic does not read");
export const clinic = clinicRead;

export const MARIT = inPackage("examples", "patients", "TS-40417", "2026-03-12.yaml");
export const OTHER = inPackage("examples", "patients", "TS-40782", "2026-04-21.yaml");

export function prepared(file: string): Prepared {
  const { value, problems } = prepareVisit({ file, beside: [], clinic, reader });
  if (!value) throw new Error(problems.map((p) => p.id).join());
  return value;
}

export async function documentOf(visit: Prepared, kind: string, templates?: string): Promise<MadeDocument> {
  const { made, problems } = await makeDocuments(visit.examined, {
    knowledge,
    clinic,
    documents: [kind],
    format: "pdf",
    ...(templates ? { overrides: { templates } } : {}),
  });
  if (!made[0]) throw new Error(problems.map((p) => `${p.id} ${p.message}`).join());
  return made[0];
}

export const people: Named[] = [MARIT, OTHER].flatMap((file) => scanVisit(file).identity ?? []);

export function proofInput(visit: Prepared, document: MadeDocument): ProofInput {
  return {
    ...visit.examined,
    ...document,
    visit: visit.examined.visit,
    clinic,
    knowledge,
    roll: new PatientIndex(people),
  };
}

/** Ids of the faults of a document, as made or with something changed. */
export async function faultsOf(
  visit: Prepared,
  document: MadeDocument,
  changed: Partial<ProofInput> = {},
): Promise<string[]> {
  const faults = await proofDocument({ ...proofInput(visit, document), ...changed });
  return [...new Set(faults.map((f) => f.id))].sort();
}

/** The PDF of a document after someone edited its text. */
export async function edited(
  document: MadeDocument,
  edit: (html: string) => string,
): Promise<{ bytes: Uint8Array; pages: number }> {
  const html = edit(document.letter.html);
  if (html === document.letter.html) throw new Error("the edit changed nothing");
  const { value } = await renderPdf({ ...document.letter, html });
  if (!value) throw new Error("the edited letter cannot be set");
  return value;
}

export function visitText(file: string): string {
  return readFileSync(file, "utf8");
}
