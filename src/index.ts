/** The library: what the whorl command does, as functions on plain data. examples/library.md shows it at work. */
export type { Outcome, Problem, Severity } from "./base/problem.js";
export { sha256 as photoHash } from "./base/sha256.js";
export { type Examined, type ExamineOptions, evaluateVisit, examineVisit } from "./batch/examine.js";
export { type MadeDocument, type MakeOptions, makeDocuments } from "./batch/make.js";
export { type Around, type LookOptions, lookAround, type Prepared, prepareFile } from "./batch/prepare.js";
export {
  clinicSkeleton,
  csvToRecords,
  type DetectedTable,
  type FhirBundle,
  type FhirInput,
  firstLook,
  followUpDraft,
  lookFor,
  type RowProblem,
  readMapping,
  recordsToCsv,
  type SkeletonOptions,
  type TableMapping,
  type TableResult,
  type TableVisit,
  tableToVisits,
  toFhir,
  type VisitDraft,
  type VisitRecord,
  visitRecords,
  visitSkeleton,
} from "./exchange/exchange.js";
export { explainJson, interpret } from "./interpret/interpret.js";
export type * from "./interpret/interpretation.js";
export { knowledgeFolder, loadKnowledge, readKnowledge } from "./knowledge/load.js";
export type { Disorder, Finding, Knowledge } from "./knowledge/schema.js";
export type { AddressWindow, Letter, Paper, TypeSize } from "./letter/document.js";
export { type ComposeInput, composeLetter } from "./letter/letter.js";
export type * from "./measure/index.js";
export { compareVisits, measure } from "./measure/index.js";
export { renderDocx } from "./page/docx.js";
export { renderHtml } from "./page/html.js";
export { type RenderedPdf, renderPdf } from "./page/pdf.js";
export { type PreparedPhoto, preparePhoto } from "./page/photos.js";
export { renderText } from "./page/text.js";
export { type Agreement, agreement } from "./picture/agreement.js";
export { type Counted, count, type Measured, measured } from "./picture/count.js";
export type { Marks } from "./picture/marks.js";
export { findingWords, marksJsonSchema } from "./picture/marks-schema.js";
export { type MarksRead, readMarks } from "./picture/read-marks.js";
export { writeMarks } from "./picture/write-marks.js";
export { documentsIn, type RegisteredDocument } from "./register/documents.js";
export type { RegisterLine } from "./register/line.js";
export { type Register, readRegister } from "./register/read.js";
export {
  type Clinic,
  type ClinicPerson,
  checkAgainstClinic,
  type EmergencyLine,
  parseClinic,
  readClinic,
} from "./visit/clinic.js";
export { clinicJsonSchema, visitJsonSchema } from "./visit/json-schema.js";
export { parseVisit, type ReadOptions, readVisit } from "./visit/read.js";
export type * from "./visit/visit.js";
export { writeVisit } from "./visit/write.js";
