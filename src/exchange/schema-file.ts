/** The JSON Schemas as files an editor reads: their names, their text, and where a new file points to them. */
import type { Knowledge } from "../knowledge/schema.js";
import { marksJsonSchema } from "../picture/marks-schema.js";
import { clinicJsonSchema, type Json, visitJsonSchema } from "../visit/json-schema.js";
import { markWords } from "../visit/read.js";

export const SCHEMA_KINDS = ["visit", "clinic", "marks"] as const;
export type SchemaKind = (typeof SCHEMA_KINDS)[number];

/** File name of a schema that stands beside the clinic file, or beside the visit where there is none. */
export const SCHEMA_FILE: Readonly<Record<SchemaKind, string>> = {
  visit: "whorl-visit.schema.json",
  clinic: "whorl-clinic.schema.json",
  marks: "whorl-marks.schema.json",
};

/** The text of a JSON Schema (draft 7), indented, ending with a line break. */
export function schemaText(kind: SchemaKind, knowledge: Knowledge): string {
  return `${JSON.stringify(SCHEMAS[kind](knowledge), null, 2)}\n`;
}

const SCHEMAS: Readonly<Record<SchemaKind, (knowledge: Knowledge) => Json>> = {
  visit: visitJsonSchema,
  clinic: clinicJsonSchema,
  marks: (knowledge) => marksJsonSchema(markWords(knowledge)),
};
