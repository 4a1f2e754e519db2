/** Earlier visits of the same patient in the same folder, so that a follow-up stands beside what was seen before. */
import { readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { readVisit } from "../visit/read.js";
import type { Visit } from "../visit/visit.js";
import type { Desk } from "./desk.js";
import { isThere } from "./folder.js";

/** Oldest first; the same number and birth date make the same patient. Files that cannot be read are passed over. */
export function earlierVisits(desk: Desk, path: string, visit: Visit): Visit[] {
  const folder = dirname(path);
  return readdirSync(folder)
    .filter(
      (name) =>
        /\.ya?ml$/iu.test(name) && !/^(?:clinic|mapping)\./iu.test(name) && join(folder, name) !== path,
    )
    .sort()
    .filter((name) => isThere(join(folder, name)))
    .flatMap((name) => readVisit(join(folder, name), desk.knowledge).value ?? [])
    .filter(
      (v) =>
        v.patient.id === visit.patient.id && v.patient.born === visit.patient.born && v.date < visit.date,
    )
    .sort((a, b) => (a.date < b.date ? -1 : 1));
}
