/** JSON Schemas (draft 7) of the visit and clinic files, so that any editor completes keys and words and marks slips. */
import type { z } from "zod";
import type { Knowledge } from "../knowledge/schema.js";
import { clinicFileSchema } from "./clinic-schema.js";
import { amountJson } from "./findings-map.js";
import { type Json, toJson } from "./leaf.js";
import { CLINIC_REQUIRED, type RequiredKey, VISIT_REQUIRED } from "./required.js";
import { visitFileSchema } from "./schema.js";
import { visitWords } from "./visit-words.js";

export type { Json } from "./leaf.js";

const made = new WeakMap<Knowledge, Json>();

/**
 * The JSON Schema of a visit file, with the findings, disorders, regions and scores of the knowledge. Made once for each knowledge,
 * which takes a tenth of a second: to be read, never changed.
 */
export function visitJsonSchema(knowledge: Knowledge): Json {
  let json = made.get(knowledge);
  if (!json) {
    const visit = ofZod(visitFileSchema(visitWords(knowledge)), "Visit file", VISIT_REQUIRED);
    json = { ...visit, definitions: { amount: amountJson() } };
    made.set(knowledge, json);
  }
  return json;
}

/** The JSON Schema of a clinic file. */
export function clinicJsonSchema(): Json {
  return ofZod(clinicFileSchema, "Clinic file", CLINIC_REQUIRED);
}

function ofZod(schema: z.ZodType, title: string, required: readonly RequiredKey[]): Json {
  const json: Json = { title, ...toJson(schema) };
  for (const { at, key } of required) {
    const map = mapAt(json, at);
    const properties = map && isJson(map.properties) ? map.properties : {};
    if (!map || !isJson(properties[key])) continue;
    map.required = [...new Set([...(Array.isArray(map.required) ? map.required : []), key])];
    properties[key] = withoutNull(properties[key]);
  }
  return json;
}

const isJson = (value: unknown): value is Json =>
  value !== null && typeof value === "object" && !Array.isArray(value);

/** The schema of the map at a place such as `sites[].patch`. */
function mapAt(json: Json, at: string): Json | undefined {
  let here: Json | undefined = json;
  for (const step of at.split(/(?=\[\])|\./u).filter((s) => s !== "")) {
    const holder = here && notNull(here);
    const next: unknown =
      step === "[]"
        ? holder?.items
        : step === "*"
          ? holder?.additionalProperties
          : isJson(holder?.properties)
            ? holder.properties[step]
            : undefined;
    here = isJson(next) ? next : undefined;
  }
  return here && notNull(here);
}

/** The branch of an `anyOf` that is not null. */
function notNull(json: Json): Json {
  const branches = Array.isArray(json.anyOf) ? json.anyOf.filter(isJson) : [];
  return branches.find((branch) => branch.type === "object" || branch.type === "array") ?? json;
}

function withoutNull(json: Json): Json {
  if (Array.isArray(json.type)) return { ...json, type: json.type.filter((type) => type !== "null") };
  if (!Array.isArray(json.anyOf)) return json;
  const { anyOf, ...rest } = json;
  const branches = (anyOf as Json[]).filter((branch) => branch.type !== "null");
  const only = branches.length === 1 ? branches[0] : undefined;
  return only ? { ...only, ...rest } : { ...rest, anyOf: branches };
}
