/** The JSON Schemas as files an editor reads: their names, their text, and where a new file points to them. */
import type { Knowledge } from "../knowledge/schema.js";
import { clinicJsonSchema, visitJsonSchema } from "../visit/json-schema.js";

export const SCHEMA_KINDS = ["visit", "clinic"] as const;
export type SchemaKind = (typeof SCHEMA_KINDS)[number];

/** File name of a schema that stands beside the clinic file, or beside the visit where there is none. */
export const SCHEMA_FILE: Readonly<Record<SchemaKind, string>> = {
  visit: "whorl-visit.schema.json",
  clinic: "whorl-clinic.schema.json",
};

/** The text of a JSON Schema (draft 7), indented, ending with a line break. */
export function schemaText(kind: SchemaKind, knowledge: Knowledge): string {
  const schema = kind === "visit" ? visitJsonSchema(knowledge) : clinicJsonSchema();
  return `${JSON.stringify(schema, null, 2)}\n`;
}
