/** Every key of a visit file as a field of the form: its kind and limits, from the table of keys, so that none is forgotten. */
import { isJson } from "../exchange/schema-place.js";
import type { Json } from "../visit/json-schema.js";
import { VISIT_KEYS } from "../visit/keys.js";
import type { FormField } from "./messages.js";

/** `schema` is the JSON Schema of a visit file. */
export function formFields(schema: Json): FormField[] {
  return VISIT_KEYS.map(({ path, says, needed }) => ({
    path,
    says,
    needed,
    ...shapeOf(path.split(".").reduce<readonly Json[]>(step, [schema])),
  }));
}

/** A schema and all that its choices hold, entries of lists too. */
function branches(json: Json): Json[] {
  const inner = Array.isArray(json.anyOf) ? json.anyOf.filter(isJson) : [];
  return [json, ...inner.flatMap(branches), ...(isJson(json.items) ? branches(json.items) : [])];
}

const step = (at: readonly Json[], key: string): Json[] =>
  at.flatMap(branches).flatMap(({ properties }) => {
    const next = isJson(properties) ? properties[key] : undefined;
    return isJson(next) ? [next] : [];
  });

function shapeOf(found: readonly Json[]): Omit<FormField, "path" | "says" | "needed"> {
  const own = found.flatMap((json) =>
    Array.isArray(json.anyOf) ? [json, ...flat(json.anyOf.filter(isJson))] : [json],
  );
  const has = (type: string) => own.some((json) => [json.type].flat().includes(type));
  const words = own.flatMap((json) => (Array.isArray(json.enum) ? json.enum.map(String) : []));
  const limits = own.find((json) => typeof json.minimum === "number");
  const most = own.find((json) => typeof json.maxLength === "number")?.maxLength;
  if (has("object")) return { kind: "map" };
  if (has("array")) {
    const entry = own.flatMap((json) => (isJson(json.items) ? branches(json.items) : []));
    const words = entry.flatMap((json) => (Array.isArray(json.enum) ? json.enum.map(String) : []));
    return words.length > 0 ? { kind: "words", words } : { kind: "lines" };
  }
  if (words.length > 0) return { kind: "word", words };
  if (limits) return { kind: "number", least: Number(limits.minimum), greatest: Number(limits.maximum) };
  if (
    own.some(
      ({ pattern }) =>
        typeof pattern === "string" && pattern.endsWith("[0-9]{2}\\s*$") && !pattern.includes("T "),
    )
  )
    return { kind: "date" };
  if (has("boolean") && most === undefined) return { kind: "yes-no" };
  if (typeof most !== "number") return { kind: "line" };
  return { kind: most >= 1000 ? "prose" : "line", most };
}

const flat = (list: readonly Json[]): Json[] =>
  list.flatMap((json) => [json, ...(Array.isArray(json.anyOf) ? flat(json.anyOf.filter(isJson)) : [])]);
