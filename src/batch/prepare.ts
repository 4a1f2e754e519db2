/** One visit and what stands around it -> the visit examined, with the change since the patient's earlier visits. Every way to a letter starts here. */
import { hasError, type Problem } from "../base/problem.js";
import { SAME_PATIENT_PROBLEMS } from "../base/problem-table.js";
import { ClinicFiles } from "../clinic-folder/clinic-file.js";
import { ClinicPeople } from "../clinic-folder/clinic-people.js";
import { VisitFiles } from "../clinic-folder/visit-files.js";
import { VisitReader } from "../clinic-folder/visit-reader.js";
import type { Knowledge } from "../knowledge/schema.js";
import { compareVisits } from "../measure/change/compare.js";
import type { Change } from "../measure/change/types.js";
import { ClinicRegisters } from "../register/clinic-registers.js";
import { type KnownEditions, sentProblems } from "../register/editions.js";
import type { Clinic } from "../visit/clinic.js";
import { placeProblems, type VisitRead } from "../visit/read.js";
import type { Differs } from "../visit/same-patient.js";
import type { Visit } from "../visit/visit.js";
import { type Examined, examineRead } from "./examine.js";

export interface PrepareInput {
  readonly file: string;
  /** The visit when it is not to be read from its file, such as one still being written. */
  readonly read?: VisitRead;
  /** Other files of the folder that may hold earlier visits of the same patient. */
  readonly beside: readonly string[];
  /** What is known of whose visit it is, among all visits of the clinic (ClinicPeople). */
  readonly whose?: readonly Problem[];
  readonly clinic?: Clinic;
  readonly reader: VisitReader;
  /** What the register says of the visit's letters so far. */
  readonly editions?: KnownEditions;
  /** The visit as it was signed, where the register kept it. */
  readonly asSigned?: Visit;
}

export interface Prepared {
  readonly examined: Examined;
  /** Earlier visits of the patient, oldest first. */
  readonly earlier: readonly Visit[];
  readonly change?: Change;
  /** What the register says of its letters so far. */
  readonly editions?: KnownEditions;
}

/** `seen` is the visit even where an error stops it from being made. */
export function prepareVisit(input: PrepareInput): { value?: Prepared; seen?: Visit; problems: Problem[] } {
  const { file, reader, clinic } = input;
  const { knowledge, today } = reader;
  const read = input.read ?? reader.read(file);
  const visit = read.value;
  if (!visit)
    return { problems: [...read.problems, ...(input.whose ?? []).map((problem) => ({ file, ...problem }))] };
  const { earlier, uncertain } = reader.around(visit, input.beside);
  const whose = placeProblems(read.places, input.whose ?? uncertain.map(uncertainProblem)).map((p) => ({
    file,
    ...p,
  }));
  if (hasError(whose)) return { seen: visit, problems: [...read.problems, ...whose] };
  const { value: examined, problems } = examineRead(file, read, {
    knowledge,
    today,
    earlier,
    ...(clinic ? { clinic } : {}),
    ...(input.asSigned ? { asSigned: input.asSigned } : {}),
  });
  problems.push(...whose);
  const { editions } = input;
  const sent = placeProblems(read.places, editions ? sentProblems(visit, editions) : []);
  problems.push(...sent.map((p) => ({ file, ...p })));
  if (!examined || hasError(sent)) return { seen: visit, problems };
  const compared = earlier.length > 0 ? compareVisits([...earlier, visit], knowledge) : undefined;
  problems.push(...(compared?.problems ?? []).map((p) => ({ file, ...p })));
  const value = {
    examined,
    earlier,
    ...(compared?.value ? { change: compared.value } : {}),
    ...(editions ? { editions } : {}),
  };
  return { value, seen: visit, problems };
}

function uncertainProblem(id: Differs): Problem {
  const { meaning, cure } = SAME_PATIENT_PROBLEMS[id];
  return { severity: "error", id, message: meaning, expected: cure };
}

/** What a run looks at: the visit files, who is who in them, their clinics, and the hand that reads them. */
export interface Around {
  readonly people: ClinicPeople;
  readonly visits: VisitFiles;
  readonly clinics: ClinicFiles;
  readonly reader: VisitReader;
  readonly registers: ClinicRegisters;
}

export interface LookOptions {
  readonly knowledge: Knowledge;
  /** ISO date. */
  readonly today: string;
  /** Takes the place of the clinic file beside or above each visit. */
  readonly clinicFile?: string;
}

/** Visit files and folders as named -> the visits they hold, and all that a run needs to know of what lies around them. */
export function lookAround(
  paths: readonly string[],
  { knowledge, today, clinicFile }: LookOptions,
): { around: Around; files: string[]; problems: Problem[] } {
  const visits = new VisitFiles();
  const { files, problems } = visits.named(paths);
  const clinics = new ClinicFiles(clinicFile);
  const around = {
    visits,
    people: new ClinicPeople({ visits, files, oneClinic: clinicFile !== undefined }),
    clinics,
    registers: new ClinicRegisters(clinics),
    reader: new VisitReader(knowledge, today),
  };
  return { around, files, problems };
}

/** A visit file made ready for its letter, with the clinic it belongs to. */
export function prepareFile(
  file: string,
  { visits, people, clinics, reader, registers }: Around,
): { value?: Prepared; clinic?: Clinic; problems: Problem[] } {
  const { clinic, problems: ofClinic } = clinics.of(file);
  const read = reader.read(file);
  const { value, problems } = prepareVisit({
    file,
    read,
    ...(read.value ? registers.told(file, read.value, reader.knowledge) : {}),
    beside: visits.beside(file),
    whose: people.problems(file),
    reader,
    ...(clinic ? { clinic } : {}),
  });
  return { ...(value ? { value } : {}), ...(clinic ? { clinic } : {}), problems: [...ofClinic, ...problems] };
}
