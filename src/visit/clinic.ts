/** Reads a clinic file: YAML text to a checked Clinic, or to every problem in it. */

import { dirname, join } from "node:path";
import { nearestWords } from "../base/nearest.js";
import type { Paper } from "../base/paper.js";
import { hasError, type Outcome, type Problem } from "../base/problem.js";
import { readPath } from "../base/yaml-source.js";
import type { ADDRESS_WINDOWS } from "./clinic-schema.js";
import { type ClinicFile, clinicFileSchema } from "./clinic-schema.js";
import { openText } from "./open-text.js";
import { problemKind } from "./problems.js";
import { inReadingOrder, type Places, placeProblems, readText } from "./read.js";
import { readValues } from "./read-values.js";
import { type Report, reporter } from "./report.js";
import { CLINIC_REQUIRED, reportRequired } from "./required.js";
import { suspiciousText } from "./suspicious-text.js";
import type { Visit } from "./visit.js";
import { withoutUndefined } from "./without-undefined.js";

export interface ClinicPerson {
  readonly name: string;
  readonly role: string;
  readonly qualifications?: string;
  readonly registration?: string;
  /** Signs letters. */
  readonly maySign: boolean;
}

/** A line for urgent help; `country` is a two-letter code, absent for everywhere. */
export interface EmergencyLine {
  readonly label: string;
  readonly number: string;
  readonly country?: string;
}

/** Letterhead, people and house choices of one clinic. Plain data. */
export interface Clinic {
  readonly name: string;
  /** Address lines. */
  readonly lines: readonly string[];
  readonly phone: string;
  readonly email?: string;
  readonly web?: string;
  /** File of the logo; from `readClinic` with the clinic file's folder before it. */
  readonly logo?: string;
  /** By the key that `seenBy` of a visit names. */
  readonly people: Readonly<Record<string, ClinicPerson>>;
  readonly paper: Paper;
  /** BCP 47 tag of letters to colleagues. */
  readonly language: string;
  readonly addressWindow: (typeof ADDRESS_WINDOWS)[number];
  readonly foldMarks: boolean;
  readonly emergency: readonly EmergencyLine[];
  readonly copyToPatient: boolean;
  /** Days after which the result of a test is late, by words of its name; what is not named is never late. */
  readonly lateAfter: Readonly<Record<string, number>>;
  /** Foot line with {clinic} and {phone}. */
  readonly confidentiality?: string;
  /** Folder of the clinic's own templates; as for `logo`. */
  readonly templates?: string;
  /** Folder of the clinic's own typefaces; as for `logo`. */
  readonly fonts?: string;
}

/** A Clinic with where its keys stand, or the problems that stopped it. */
export interface ClinicRead extends Outcome<Clinic> {
  readonly places?: Places;
}

/** The Clinic in `text`, or the problems that stop it. */
export function parseClinic(text: string, file: string): ClinicRead {
  const { source, problems } = openText(text, file);
  if (!source) return { problems };
  const { values, problems: misread } = readValues(source, clinicFileSchema);
  problems.push(...misread);
  if (values) {
    const { report, reported } = reporter(source, problems);
    missingOf(values, report);
    problems.push(...reported);
  }
  problems.push(...suspiciousText(source, problems));
  const settled = inReadingOrder(problems);
  const places: Places = { file, of: (path) => source.place(readPath(path)) };
  return values && !hasError(settled)
    ? { value: toClinic(values), problems: settled, places }
    : { problems: settled, places };
}

/** As `parseClinic`, from a file on disk; logo and templates come with the file's folder before them. */
export function readClinic(file: string): ClinicRead {
  const { value: text, problems } = readText(file);
  return text === undefined ? { problems } : clinicAt(text, file);
}

/** As `readClinic`, of a text that is to stand in the file. */
export function clinicAt(text: string, file: string): ClinicRead {
  const outcome = parseClinic(text, file);
  if (!outcome.value) return outcome;
  const beside = (name: string | undefined) => (name === undefined ? undefined : join(dirname(file), name));
  const { logo, templates, fonts } = outcome.value;
  const value = withoutUndefined({
    ...outcome.value,
    logo: beside(logo),
    templates: beside(templates),
    fonts: beside(fonts),
  });
  return { ...outcome, value };
}

/** Problems of a visit that only its clinic file shows: who saw the patient, and whether they may sign. */
export function checkAgainstClinic(visit: Visit, clinic: Clinic, places?: Places): Problem[] {
  const person = Object.hasOwn(clinic.people, visit.seenBy) ? clinic.people[visit.seenBy] : undefined;
  const path = "visit.seen_by";
  if (!person) {
    const keys = Object.keys(clinic.people);
    const suggestion = nearestWords(visit.seenBy, keys)[0] ?? byName(visit.seenBy, clinic);
    return placeProblems(places, [
      {
        severity: "error",
        id: "unknown-person",
        message: `"${visit.seenBy}" is nobody in the clinic file`,
        path,
        found: visit.seenBy,
        expected: keys.join(", "),
        ...(suggestion ? { suggestion } : {}),
      },
    ]);
  }
  if (visit.status !== "signed") return [];
  // Whoever saw the patient signs, unless somebody else did.
  const by = visit.signed?.by ?? visit.seenBy;
  const signer = Object.hasOwn(clinic.people, by) ? clinic.people[by] : undefined;
  if (signer?.maySign) return [];
  return placeProblems(places, [
    {
      severity: problemKind("may-not-sign").severity,
      id: "may-not-sign",
      message: `${signer?.name ?? `"${by}"`} does not sign letters (may_sign in the clinic file)`,
      path: visit.signed ? "signed.by" : path,
      found: by,
    },
  ]);
}

function byName(written: string, clinic: Clinic): string | undefined {
  const words = written.toLowerCase().split(/[\s_.-]+/u);
  const last = words.at(-1);
  return Object.entries(clinic.people).find(
    ([, person]) =>
      last !== undefined && last.length > 2 && person.name.toLowerCase().split(/\s+/u).includes(last),
  )?.[0];
}

function missingOf(file: ClinicFile, report: Report): void {
  reportRequired(file, CLINIC_REQUIRED, report);
  for (const [key, person] of Object.entries(file.people ?? {})) {
    if (person?.may_sign && !person.registration)
      report("no-registration", ["people"], {
        message: `${key} signs letters and has no registration number`,
        key,
      });
  }
  if (file.people && !Object.values(file.people).some((person) => person?.may_sign))
    report("nobody-signs", [], {
      message: "nobody of the clinic may sign",
      key: "people",
      expected: "may_sign: true for one person at least",
    });
  if ((file.emergency ?? []).length === 0)
    report("no-emergency", [], {
      message: "no line for urgent help, which the handout prints",
      absent: "emergency",
    });
}

function toClinic(file: ClinicFile): Clinic {
  const people: Record<string, ClinicPerson> = {};
  for (const [key, person] of Object.entries(file.people ?? {})) {
    if (!person) continue;
    const { name = "", role = "", qualifications, registration, may_sign: maySign = false } = person;
    people[key] = withoutUndefined({ name, role, qualifications, registration, maySign });
  }
  return withoutUndefined({
    name: file.name ?? "",
    lines: file.lines ?? [],
    phone: file.phone ?? "",
    email: file.email,
    web: file.web,
    logo: file.logo,
    people,
    paper: file.paper ?? (/-US$/iu.test(file.language ?? "") ? "Letter" : "A4"),
    language: file.language ?? "en-GB",
    addressWindow: file.address_window ?? "none",
    foldMarks: file.fold_marks ?? false,
    emergency: (file.emergency ?? []).flatMap((line) =>
      line ? [{ label: line.label ?? "", number: line.number ?? "", country: line.country }] : [],
    ),
    copyToPatient: file.copy_to_patient ?? false,
    lateAfter: Object.fromEntries(
      Object.entries(file.late_after ?? {}).flatMap(([test, usual]) =>
        usual && (usual.days !== undefined || usual.weeks !== undefined)
          ? [[test, (usual.days ?? 0) + 7 * (usual.weeks ?? 0)]]
          : [],
      ),
    ),
    confidentiality: file.confidentiality,
    templates: file.templates,
    fonts: file.fonts,
  });
}
