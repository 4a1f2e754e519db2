/** How the desk writes what it adds to a visit file: keys in the order of the format, short rows on one line. */
import type { KeyPath } from "../base/yaml-source.js";
import { isJson } from "../exchange/schema-place.js";
import type { Json } from "../visit/json-schema.js";

/** Places that run over several lines; every other map or list stands on one. `[]` is any entry. */
const BLOCKS: ReadonlySet<string> = new Set([
  "",
  "visit",
  "patient",
  "send_to",
  "send_to[]",
  "history",
  "examination",
  "pull_test",
  "sites",
  "sites[]",
  "sites[].findings",
  "sites[].fields",
  "sites[].photos",
  "scores",
  "tests",
  "impression",
  "plan",
  "accept",
  "people",
  "emergency",
]);
/** A person of a clinic file. */
const PERSON = /^people\.[^.[]+$/u;

const shape = (path: KeyPath): string =>
  path.map((step, i) => (typeof step === "number" ? "[]" : i === 0 ? step : `.${step}`)).join("");

/** True when the map or list at `path` is written on one line. */
export function onOneLine(path: KeyPath): boolean {
  const place = shape(path);
  return !BLOCKS.has(place) && !PERSON.test(place);
}

/** The keys of the map at `path` in the order of the format; empty where any key may stand, as in findings. */
export function keyOrder(schema: Json, path: KeyPath): string[] {
  let here: Json | undefined = schema;
  for (const step of path) {
    const holder: Json | undefined = here && branch(here);
    const named = isJson(holder?.properties) ? holder.properties : {};
    const next: unknown =
      typeof step === "number" ? holder?.items : (named[step] ?? holder?.additionalProperties);
    here = isJson(next) ? next : undefined;
  }
  const map = here && branch(here);
  if (map?.additionalProperties !== false || map.patternProperties) return [];
  return isJson(map.properties) ? Object.keys(map.properties) : [];
}

/** The branch of an `anyOf` that holds keys or entries. */
function branch(json: Json): Json {
  const branches = Array.isArray(json.anyOf) ? json.anyOf.filter(isJson) : [];
  return branches.find((b) => b.type === "object" || b.type === "array") ?? json;
}
