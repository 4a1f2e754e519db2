/** What every part of the desk needs: the folder, the knowledge, the clinic of a visit, today's date. */
import { statSync } from "node:fs";
import type { Problem } from "../base/problem.js";
import type { Knowledge } from "../knowledge/schema.js";
import { type Clinic, readClinic } from "../visit/clinic.js";
import { type Json, visitJsonSchema } from "../visit/json-schema.js";
import { VisitList } from "./visit-list.js";

export interface DeskOptions {
  readonly folder: string;
  readonly knowledge: Knowledge;
  /** The clinic file that belongs to a visit file, if any. */
  readonly clinicFileOf: (visitFile: string) => string | undefined;
  /** ISO date of today. */
  readonly today: () => string;
}

export interface Desk extends DeskOptions {
  readonly schema: Json;
  readonly list: VisitList;
  /** The clinic of a visit file, read again when its file changes. */
  readonly clinicOf: (visitFile: string) => {
    readonly clinic?: Clinic;
    readonly problems: readonly Problem[];
  };
}

export function openDesk(options: DeskOptions): Desk {
  const known = new Map<string, { stamp: number; clinic?: Clinic; problems: readonly Problem[] }>();
  const clinicOf: Desk["clinicOf"] = (visitFile) => {
    const file = options.clinicFileOf(visitFile);
    if (file === undefined) return { problems: [noClinicFile(visitFile)] };
    const stamp = statSync(file, { throwIfNoEntry: false })?.mtimeMs ?? 0;
    const before = known.get(file);
    if (before?.stamp === stamp) return before;
    const { value, problems } = readClinic(file);
    const found = { stamp, problems, ...(value ? { clinic: value } : {}) };
    known.set(file, found);
    return found;
  };
  const { folder, knowledge, today } = options;
  const list = new VisitList({ folder, knowledge, today, clinicOf });
  return { ...options, schema: visitJsonSchema(knowledge), list, clinicOf };
}

const noClinicFile = (file: string): Problem => ({
  severity: "error",
  id: "no-clinic-file",
  message: "no clinic file: a letter needs a letterhead and the people of the clinic",
  file,
  expected: "a clinic.yaml beside the visit or in a folder above it",
});
