/** One visit file and its neighbours -> the visit examined, with the change since the patient's earlier visits. */
import type { Problem } from "../base/problem.js";
import type { Knowledge } from "../knowledge/schema.js";
import { compareVisits } from "../measure/change.js";
import type { Change } from "../measure/change-types.js";
import type { Clinic } from "../visit/clinic.js";
import { readVisit } from "../visit/read.js";
import type { Visit } from "../visit/visit.js";
import { type Examined, examineRead } from "./examine.js";

export interface PrepareInput {
  readonly file: string;
  /** Other files that may hold earlier visits of the same patient. */
  readonly neighbours: readonly string[];
  readonly clinic: Clinic;
  readonly knowledge: Knowledge;
  /** ISO date that "in the future" is judged against. */
  readonly today: string;
}

export interface Prepared {
  readonly examined: Examined;
  readonly change?: Change;
}

/** Reads the visit once and its earlier visits once. `seen` is the visit even where an error stops it from being made. */
export function prepareVisit(input: PrepareInput): { value?: Prepared; seen?: Visit; problems: Problem[] } {
  const { file, knowledge, clinic, today } = input;
  const read = readVisit(file, knowledge, { today });
  const visit = read.value;
  if (!visit) return { problems: [...read.problems] };
  const earlier = input.neighbours
    .flatMap((near) => readVisit(near, knowledge, { today }).value ?? [])
    .filter((v) => isSamePatient(v, visit) && v.date < visit.date)
    .sort((a, b) => (a.date < b.date ? -1 : 1));
  const { value: examined, problems } = examineRead(file, read, { knowledge, clinic, today, earlier });
  if (!examined) return { seen: visit, problems };
  const compared = earlier.length > 0 ? compareVisits([...earlier, visit], knowledge) : undefined;
  problems.push(...(compared?.problems ?? []).map((p) => ({ file, ...p })));
  const value = { examined, ...(compared?.value ? { change: compared.value } : {}) };
  return { value, seen: visit, problems };
}

function isSamePatient(a: Visit, b: Visit): boolean {
  return a.patient.id === b.patient.id && a.patient.born === b.patient.born;
}
