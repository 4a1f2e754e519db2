/** Ways in and out: skeletons and tables become visit files; visits leave as FHIR, tables and editable documents. */
export { clinicSkeleton } from "./clinic-skeleton.js";
export { type AmountWord, type DraftSite, followUpDraft, type VisitDraft } from "./draft.js";
export { type FhirBundle, type FhirInput, toFhir } from "./fhir.js";
export { firstLook, lookFor } from "./look-for.js";
export { mappingDraft, withoutOldRemarks } from "./mapping-draft.js";
export { mappingForm } from "./mapping-form.js";
export { type VisitRecord, visitRecords } from "./records.js";
export { csvToRecords, recordsToCsv } from "./records-csv.js";
export { SCHEMA_FILE, SCHEMA_KINDS, type SchemaKind, schemaText } from "./schema-file.js";
export { type SkeletonOptions, visitSkeleton } from "./skeleton.js";
export {
  type DetectedTable,
  type RowProblem,
  type TableResult,
  type TableVisit,
  tableToVisits,
} from "./table.js";
export { readMapping, type TableMapping } from "./table-mapping.js";
export { isWorkbook, openWorkbook, type Sheet } from "./table-workbook.js";
