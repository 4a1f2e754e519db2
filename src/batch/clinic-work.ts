/** Visit files and folders as named -> by clinic, the visits as open work sees them, with the register and everything that waits. */
import { dirname } from "node:path";
import { groupBy } from "../base/group.js";
import type { Problem } from "../base/problem.js";
import { IDENTITY_PROBLEMS } from "../base/problem-table.js";
import { othersOf, severityOf } from "../clinic-folder/identity-problems.js";
import { type Extract, extractOf } from "../due/extract.js";
import { openWork } from "../due/open-work.js";
import type { WorkVisit } from "../due/visits.js";
import type { WorkLine } from "../due/work-line.js";
import { knowledgeHash } from "../knowledge/load.js";
import { type Register, readRegister } from "../register/read.js";
import type { Clinic } from "../visit/clinic.js";
import { evaluateVisit } from "./examine.js";
import { KeptExtracts } from "./kept-extracts.js";
import { type Around, type LookOptions, lookAround } from "./prepare.js";

export interface ClinicWork {
  /** The folder of the clinic file; of the visits where there is none. */
  readonly folder: string;
  readonly clinic?: Clinic;
  readonly visits: readonly WorkVisit[];
  readonly register: Register;
  readonly lines: readonly WorkLine[];
}

export interface WorkOptions extends LookOptions {
  /** Told now and then while visits are weighed. */
  readonly progress?: (done: number, of: number) => void;
}

/** Reads only; what was weighed is kept beside the clinic file for the next time. */
export function clinicWork(
  paths: readonly string[],
  options: WorkOptions,
): { clinics: ClinicWork[]; files: number; problems: Problem[] } {
  const { around, files, problems } = lookAround(paths, options);
  let done = 0;
  const tell = () => options.progress?.(++done, files.length);
  const byClinic = groupBy(files, (file) => around.clinics.fileOf(file) ?? "");
  const clinics = [...byClinic].map(([clinicFile, own]): ClinicWork => {
    const folder = dirname(clinicFile || (own[0] ?? ""));
    const found = clinicFile === "" ? undefined : around.clinics.of(own[0] ?? "");
    problems.push(...(found?.problems ?? []));
    const kept = new KeptExtracts(folder, knowledgeHash());
    const visits = own.map((file) => {
      tell();
      return workVisit(file, around, kept);
    });
    const seen = new Set(own);
    const isWhole = around.visits.below(folder).files.every((file) => seen.has(file));
    // Without a clinic file nobody has said that this is a clinic's folder to keep anything in.
    if (clinicFile !== "") kept.keep(around.visits, seen);
    const register = readRegister(folder);
    problems.push(...register.problems);
    const { lateAfter = {}, people = {} } = found?.clinic ?? {};
    const lines = openWork(
      visits,
      register.exists ? linesFor(visits, register.lines, isWhole) : null,
      { lateAfter, people },
      options.today,
    );
    return { folder, ...(found?.clinic ? { clinic: found.clinic } : {}), visits, register, lines };
  });
  return { clinics, files: files.length, problems };
}

/** Where only some visits were named, the register speaks of those alone. */
function linesFor(
  visits: readonly WorkVisit[],
  lines: Register["lines"],
  isWhole: boolean,
): Register["lines"] {
  const named = new Set(visits.map((v) => v.identity?.visit));
  return isWhole ? lines : lines.filter((line) => !("visit" in line) || named.has(line.visit));
}

/** A visit of a later day than today is read anew: that day may have been a slip. */
export function workVisit(file: string, around: Around, kept: Pick<KeptExtracts, "of">): WorkVisit {
  const { visits, people, reader } = around;
  const scan = visits.scan(file);
  const { identity } = scan;
  const isKept = identity !== undefined && identity.date <= reader.today;
  const make = () => extractFrom(file, around);
  const extract = isKept ? kept.of(scan, make) : make();
  const doubts = people
    .doubts(file)
    .filter((doubt) => severityOf(doubt) === "error")
    .map(
      (doubt) =>
        `${IDENTITY_PROBLEMS[doubt.id].meaning}${doubt.others.length > 0 ? ` See ${othersOf(doubt)}.` : ""}`,
    );
  const known = extract?.identity ?? identity;
  return {
    path: file,
    ...(known ? { identity: known } : {}),
    ...(extract ? { extract } : {}),
    doubts,
  };
}

function extractFrom(file: string, { reader }: Around): Extract | undefined {
  const visit = reader.read(file).value;
  if (!visit) return undefined;
  const { knowledge } = reader;
  const { measures, interpretation } = evaluateVisit(visit, { knowledge });
  return extractOf(visit, measures, interpretation, knowledge);
}
