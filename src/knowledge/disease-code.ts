/** The code of a disorder in the list that the readers of a document use. */
import type { DisorderId } from "../base/ids.js";
import type { Knowledge } from "./schema.js";

export interface DiseaseCode {
  /** As the list is named in print. */
  readonly list: "ICD-10" | "ICD-10-CM";
  /** As FHIR names it. */
  readonly system: string;
  readonly code: string;
  readonly title: string;
}

/** ICD-10-CM where the language is that of the United States and the list holds the disorder, ICD-10 of the WHO elsewhere. */
export function diseaseCode(
  disorder: DisorderId,
  knowledge: Knowledge,
  language: string,
): DiseaseCode | undefined {
  const american = language === "en-US" ? knowledge.icd10cm[disorder] : undefined;
  if (american)
    return {
      list: "ICD-10-CM",
      system: "http://hl7.org/fhir/sid/icd-10-cm",
      code: american.code,
      title: american.title,
    };
  const known = knowledge.disorders[disorder]?.icd10;
  return (
    known && {
      list: "ICD-10",
      system: "http://hl7.org/fhir/sid/icd-10",
      code: known.code,
      title: known.title,
    }
  );
}
