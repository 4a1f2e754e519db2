/** A clinic file on its own: its keys, and whether a letter can be made with its logo, its language and its templates. */
import { readFileSync } from "node:fs";
import { basename } from "node:path";
import type { Outcome, Problem } from "../base/problem.js";
import { inPackage } from "../base/root.js";
import { CLINIC_FILE } from "../clinic-folder/clinic-file.js";
import type { Knowledge } from "../knowledge/schema.js";
import { type Clinic, type ClinicRead, readClinic } from "../visit/clinic.js";
import { placeProblems } from "../visit/places.js";
import { parseVisit } from "../visit/read.js";
import type { Visit } from "../visit/visit.js";
import { type Examined, evaluateVisit } from "./examine.js";
import { makeDocuments } from "./make.js";
import { makeProofed } from "./make-proofed.js";

/** An invented visit, for a letter that goes nowhere. */
const TRIAL = inPackage("examples", "patients", "TS-40417", "2026-03-12.yaml");

/** True for a clinic file, by its name or by its keys. */
export function isClinicFile(file: string): boolean {
  if (basename(file) === CLINIC_FILE) return true;
  if (!/\.ya?ml$/iu.test(file)) return false;
  try {
    const text = readFileSync(file, "utf8");
    return /^people:/mu.test(text) && !/^(?:patient|visit|sites):/mu.test(text);
  } catch {
    return false;
  }
}

/** Everything that would keep a clinic from its letters, at its line of the clinic file where the file is at fault. */
export async function checkClinic(
  file: string,
  knowledge: Knowledge,
  { value: clinic, problems, places }: ClinicRead = readClinic(file),
): Promise<Problem[]> {
  if (!clinic) return [...problems];
  const examined = trialOf(clinic, knowledge);
  if (!examined) return [...problems];
  const tried = await makeProofed(examined, { knowledge, clinic, clinicFile: file });
  const found = tried.problems
    .filter((p) => p.severity === "error")
    .map(({ line, column, length, ...p }): Problem => {
      if (p.file !== undefined && p.file !== TRIAL && p.file !== clinic.templates)
        return { ...p, ...(line === undefined ? {} : { line, column: column ?? 1, length: length ?? 1 }) };
      return { ...p, file, path: pathOf(p) };
    });
  const once = found.filter((p, i) => found.findIndex((other) => other.message === p.message) === i);
  return [...problems, ...placeProblems(places, once)];
}

/** The key of the clinic file that a problem of a letter goes back to. */
function pathOf({ id, message }: Problem): string {
  if (/logo|svg|drawing|figure/iu.test(`${id} ${message}`)) return "logo";
  if (/template/iu.test(id)) return "templates";
  return /language|phrase/iu.test(id) ? "language" : "name";
}

/** The invented visit's letter as this clinic would send it, to be looked at before the clinic file is kept. */
export async function sampleLetter(clinic: Clinic, knowledge: Knowledge): Promise<Outcome<Uint8Array>> {
  const examined = trialOf(clinic, knowledge);
  if (!examined) return { problems: [] };
  const { made, problems } = await makeDocuments(examined, {
    knowledge,
    clinic,
    documents: ["referral-letter"],
    format: "pdf",
  });
  const [letter] = made;
  return letter ? { value: letter.bytes, problems } : { problems };
}

/** The invented visit, seen by someone of this clinic and without photographs. */
function trialOf(clinic: Clinic, knowledge: Knowledge): Examined | undefined {
  const { value } = parseVisit(readFileSync(TRIAL, "utf8"), TRIAL, knowledge);
  const [seenBy] = Object.keys(clinic.people);
  if (!value || seenBy === undefined) return undefined;
  const sites = value.sites.map((site) => ({ ...site, photos: [] }));
  const { signed: _signed, ...visit } = value;
  const trial: Visit = { ...visit, seenBy, status: "draft", sites };
  return { ...evaluateVisit(trial, { knowledge }), file: TRIAL };
}
