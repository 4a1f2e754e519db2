/** From a complete visit file to the Visit that the rest of the house sees: camel case, defaults, nothing undefined. */
import { readMap } from "./key.js";
import { EVENT_KEYS } from "./keys/patient.js";
import { KEYS } from "./keys.js";
import type { VisitFile } from "./schema.js";
import type { Visit } from "./visit.js";

const { format: _format, visit: _visit, ...OTHERS } = KEYS;

/** The Visit of a file in which nothing required is missing; throws on one that was not checked. */
export function toVisit(file: VisitFile): Visit {
  return { format: 1, ...readMap(EVENT_KEYS, file.visit), ...readMap(OTHERS, file) };
}
