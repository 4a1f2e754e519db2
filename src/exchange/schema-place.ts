/** A place of a visit file, as its JSON Schema describes it: what it holds, which words it takes and what is said of it. */

/** A JSON Schema, or a part of one. */
export type Json = Readonly<Record<string, unknown>>;

export type PlaceKind = "map" | "list" | "date" | "number" | "yes-no" | "word" | "texts" | "text";

export interface Place {
  readonly kind: PlaceKind;
  /** Words the place takes, where they are a closed list. */
  readonly words: readonly string[];
  /** Keys of a map; empty otherwise. */
  readonly keys: readonly string[];
  /** One sentence on the place; empty where nothing is said. */
  readonly says: string;
}

/** What stands at `path` (`["visit", "date"]`; list entries by any number), or undefined where the file has no such place. */
export function placeAt(schema: Json, path: readonly (string | number)[]): Place | undefined {
  let here: Json | undefined = schema;
  for (const step of path) {
    here = here && stepInto(here, step, schema);
    if (!here) return undefined;
  }
  return here && describe(here, schema);
}

function stepInto(json: Json, step: string | number, root: Json): Json | undefined {
  for (const branch of branches(json, root)) {
    if (typeof step === "number") {
      if (isJson(branch.items)) return branch.items;
      continue;
    }
    const named = child(branch.properties, step);
    if (named) return named;
    const names = isJson(branch.propertyNames) ? String(branch.propertyNames.pattern) : undefined;
    if (names !== undefined && isJson(branch.additionalProperties) && new RegExp(names, "u").test(step))
      return branch.additionalProperties;
    for (const [pattern, inner] of Object.entries(
      isJson(branch.patternProperties) ? branch.patternProperties : {},
    ))
      if (isJson(inner) && new RegExp(pattern, "u").test(step)) return inner;
  }
  return undefined;
}

function describe(json: Json, root: Json): Place {
  const all = branches(json, root);
  const says = typeof json.description === "string" ? json.description : "";
  const keys = all.flatMap((b) => (isJson(b.properties) ? Object.keys(b.properties) : []));
  const words = all.flatMap((b) => (Array.isArray(b.enum) ? b.enum.map(String) : []));
  const patterned = all.map((b) => (typeof b.pattern === "string" ? b.pattern : "")).join("");
  const list = all.find((b) => b.type === "array");
  const kind = ((): PlaceKind => {
    if (list)
      // An entry that may be a text alone, as a medicine may, is taken for one.
      return isJson(list.items) &&
        branches(list.items, root).every((b) => isJson(b.properties) || b.type === "null")
        ? "list"
        : "texts";
    if (words.length > 0) return "word";
    if (keys.length > 0) return "map";
    if (patterned.includes("[0-9]{4}-[0-9]{2}")) return "date";
    // A text or a number of a patient may be written in figures alone, and stays a text: 00417 is not 417.
    if (all.some((b) => b.type === "string" && b.maxLength !== undefined)) return "text";
    if (all.some((b) => b.type === "boolean")) return "yes-no";
    return all.some((b) => b.type === "number" || b.type === "integer") ? "number" : "text";
  })();
  return { kind, words, keys: kind === "map" ? keys : [], says };
}

/** The alternatives of a schema, references followed. */
function branches(json: Json, root: Json): Json[] {
  if (typeof json.$ref === "string") {
    const target = json.$ref
      .replace(/^#\//u, "")
      .split("/")
      .reduce<unknown>((at, step) => (isJson(at) ? at[step] : undefined), root);
    return isJson(target) ? branches(target, root) : [];
  }
  const parts = [json.anyOf, json.allOf].flatMap((all) => (Array.isArray(all) ? all.filter(isJson) : []));
  const inner = parts.flatMap((part) => branches(part, root));
  return inner.length > 0 ? inner : [json];
}

function child(properties: unknown, key: string): Json | undefined {
  const value = isJson(properties) && Object.hasOwn(properties, key) ? properties[key] : undefined;
  return isJson(value) ? value : undefined;
}

export function isJson(value: unknown): value is Json {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
