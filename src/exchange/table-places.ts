/** Places of a visit file that a column of a table may fill, from the table of keys, as a mapping names them. */
import type { Knowledge } from "../knowledge/schema.js";
import { visitJsonSchema } from "../visit/json-schema.js";
import type { Keys } from "../visit/key.js";
import { KEYS, VISIT_KEYS } from "../visit/keys.js";
import { visitWords } from "../visit/visit-words.js";
import type { MappedPlace } from "./mapping-shown.js";
import { placeAt } from "./schema-place.js";
import { asKeys, readPlace } from "./table-place.js";

/** Written by the tool itself, or one value for the whole file. */
const NO_COLUMN = /^(?:format|accept|signed)\b/u;

/** Every place that holds one value; of findings see the catalogue. Those of sites speak of the site that a row is about. */
export function mappedPlaces(knowledge: Knowledge): MappedPlace[] {
  const schema = visitJsonSchema(knowledge);
  const { regions } = visitWords(knowledge);
  return VISIT_KEYS.filter(({ path }) => !NO_COLUMN.test(path)).flatMap(({ path, says, needed }) => {
    const place = inLists(path);
    const read = readPlace(place, regions);
    const kind = "steps" in read ? placeAt(schema, asKeys(read.steps))?.kind : undefined;
    return kind === undefined || kind === "map" || kind === "list" ? [] : [{ place, path, says, needed }];
  });
}

/** `send_to.name` -> `send_to[0].name`. */
function inLists(path: string): string {
  let keys: Keys | undefined = KEYS;
  const steps = path.split(".").map((step) => {
    const key: Keys[string] | undefined = keys?.[step];
    keys = key?.keys;
    return key?.entries ? `${step}[0]` : step;
  });
  return steps
    .join(".")
    .replace(/^sites\[0\]\.site$/u, "site")
    .replace(/^sites\[0\]\./u, "site.");
}

/** Words that a place takes, where they are a closed list: of a site its regions, of a finding its amounts. */
export function wordsAt(place: string, knowledge: Knowledge): readonly string[] {
  const { regions } = visitWords(knowledge);
  if (place === "site") return [...regions.terms.values()];
  const read = readPlace(place, regions);
  return "steps" in read ? (placeAt(visitJsonSchema(knowledge), asKeys(read.steps))?.words ?? []) : [];
}
