/** What every command needs: knowledge, the clinic of a visit, today's date. Clock and disk are touched here, not deeper. */
import type { Problem } from "../base/problem.js";
import { loadKnowledge } from "../knowledge/load.js";
import type { Knowledge } from "../knowledge/schema.js";
import { type Clinic, readClinic } from "../visit/clinic.js";
import { readVisit } from "../visit/read.js";
import type { Visit } from "../visit/visit.js";
import { findClinicFile, visitsBeside } from "./inputs.js";

export const EXIT = { fine: 0, input: 1, usage: 2, failed: 3 } as const;

/** ISO date of today, local. */
export function today(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

export interface ClinicFound {
  readonly clinic?: Clinic;
  readonly problems: readonly Problem[];
}

const clinics = new Map<string, ClinicFound>();

/** The clinic named by `--clinic`, or the `clinic.yaml` beside or above the visit file. */
export function clinicFor(visitFile: string, named?: string): ClinicFound {
  const file = named ?? findClinicFile(visitFile);
  if (file === undefined) {
    return {
      problems: [
        {
          severity: "error",
          id: "no-clinic-file",
          message: "no clinic file: a letter needs a letterhead and the people of the clinic",
          file: visitFile,
          expected: "a clinic.yaml beside the visit or in a folder above it, or --clinic FILE",
        },
      ],
    };
  }
  const known = clinics.get(file);
  if (known) return known;
  const { value, problems } = readClinic(file);
  const found: ClinicFound = value ? { clinic: value, problems } : { problems };
  clinics.set(file, found);
  return found;
}

/** Earlier visits of the same patient in the same folder, oldest first; unreadable neighbours are left to their own check. */
export function earlierVisits(
  visitFile: string,
  visit: Pick<Visit, "date" | "patient">,
  knowledge: Knowledge,
): Visit[] {
  return visitsBeside(visitFile)
    .flatMap((file) => readVisit(file, knowledge).value ?? [])
    .filter(
      (v) =>
        v.patient.id === visit.patient.id && v.patient.born === visit.patient.born && v.date < visit.date,
    )
    .sort((a, b) => (a.date < b.date ? -1 : 1));
}

export { loadKnowledge };
