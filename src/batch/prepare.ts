/** One visit and what stands around it -> the visit examined, with the change since the patient's earlier visits. Every way to a letter starts here. */
import type { Outcome, Problem } from "../base/problem.js";
import type { ClinicFiles } from "../clinic-folder/clinic-file.js";
import type { VisitFiles } from "../clinic-folder/visit-files.js";
import type { VisitReader } from "../clinic-folder/visit-reader.js";
import { compareVisits } from "../measure/change.js";
import type { Change } from "../measure/change-types.js";
import type { Clinic } from "../visit/clinic.js";
import type { Visit } from "../visit/visit.js";
import { type Examined, examineRead } from "./examine.js";

export interface PrepareInput {
  readonly file: string;
  /** The visit when it is not to be read from its file, such as one still being written. */
  readonly read?: Outcome<Visit>;
  /** Other files of the folder that may hold earlier visits of the same patient. */
  readonly beside: readonly string[];
  readonly clinic?: Clinic;
  readonly reader: VisitReader;
}

export interface Prepared {
  readonly examined: Examined;
  /** Earlier visits of the patient, oldest first. */
  readonly earlier: readonly Visit[];
  readonly change?: Change;
}

/** `seen` is the visit even where an error stops it from being made. */
export function prepareVisit(input: PrepareInput): { value?: Prepared; seen?: Visit; problems: Problem[] } {
  const { file, reader, clinic } = input;
  const { knowledge, today } = reader;
  const read = input.read ?? reader.read(file);
  const visit = read.value;
  if (!visit) return { problems: [...read.problems] };
  const earlier = reader.earlier(visit, input.beside);
  const { value: examined, problems } = examineRead(file, read, {
    knowledge,
    today,
    earlier,
    ...(clinic ? { clinic } : {}),
  });
  if (!examined) return { seen: visit, problems };
  const compared = earlier.length > 0 ? compareVisits([...earlier, visit], knowledge) : undefined;
  problems.push(...(compared?.problems ?? []).map((p) => ({ file, ...p })));
  const value = { examined, earlier, ...(compared?.value ? { change: compared.value } : {}) };
  return { value, seen: visit, problems };
}

/** What a run looks at: the visit files, their clinics, and the hand that reads them. */
export interface Around {
  readonly visits: VisitFiles;
  readonly clinics: ClinicFiles;
  readonly reader: VisitReader;
}

/** A visit file made ready for its letter, with the clinic it belongs to. */
export function prepareFile(
  file: string,
  { visits, clinics, reader }: Around,
): { value?: Prepared; clinic?: Clinic; problems: Problem[] } {
  const { clinic, problems: ofClinic } = clinics.of(file);
  const { value, problems } = prepareVisit({
    file,
    beside: visits.beside(file),
    reader,
    ...(clinic ? { clinic } : {}),
  });
  return { ...(value ? { value } : {}), ...(clinic ? { clinic } : {}), problems: [...ofClinic, ...problems] };
}
