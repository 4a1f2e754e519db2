/** One PDF with all it was made from, and the names that may stand in it. */
import type { Interpretation } from "../../interpret/interpretation.js";
import type { Knowledge } from "../../knowledge/schema.js";
import type { Letter, Reader } from "../../letter/document.js";
import type { Pack } from "../../letter/pack.js";
import type { Measures } from "../../measure/types.js";
import type { Clinic } from "../../visit/clinic.js";
import type { Recipient, Visit } from "../../visit/visit.js";
import { tokensOf } from "../token-text.js";
import type { PatientIndex } from "./patient-index.js";

export interface ProofInput {
  readonly bytes: Uint8Array;
  /** As composed from the visit now, for this recipient. */
  readonly letter: Letter;
  readonly reader: Reader;
  readonly pack: Pack;
  readonly visit: Visit;
  readonly recipient: Recipient | null;
  readonly clinic: Clinic;
  readonly knowledge: Knowledge;
  readonly measures: Measures;
  readonly interpretation: Interpretation;
  readonly pages: number;
  readonly roll: PatientIndex;
}

/** Every name that may stand in a document of this visit, as words. */
export function allowedNames(visit: Visit, clinic: Clinic): string[][] {
  const { title, given, family } = visit.patient.name;
  return [
    [title, given, family].filter(Boolean).join(" "),
    `${family} ${given}`,
    ...visit.sendTo.flatMap((r) => [r.name, ...r.address]),
    ...Object.values(clinic.people).map((p) => p.name),
    clinic.name,
  ].map(tokensOf);
}
