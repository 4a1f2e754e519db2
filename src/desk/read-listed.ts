/** What the list says of one visit, read from its head or from the whole of it. */
import { join } from "node:path";
import type { VisitFiles } from "../clinic-folder/visit-files.js";
import type { Knowledge } from "../knowledge/schema.js";
import { type Clinic, checkAgainstClinic } from "../visit/clinic.js";
import { readText } from "../visit/read.js";
import { writtenIn } from "./edit-yaml.js";
import type { Kept } from "./kept-list.js";
import type { ListedVisit } from "./list-messages.js";
import type { Written } from "./messages.js";
import { readAtDesk } from "./read-at-desk.js";
import { isSigned } from "./signed.js";

export interface ReadFolder {
  readonly folder: string;
  readonly knowledge: Knowledge;
  readonly today: () => string;
  readonly clinicOf: (visitFile: string) => { readonly clinic?: Clinic };
}

/** As much as a look at the head of the file tells. */
export function readHead(
  { folder }: ReadFolder,
  file: string,
  visits: VisitFiles,
  before: Kept | undefined,
): Kept {
  const path = join(folder, file);
  const { hash, identity } = visits.scan(path);
  const text = readText(path).value ?? "";
  const signed = /^\s*["']?status["']?\s*:\s*["']?signed\b|[{,]\s*status\s*:\s*signed\b/imu.test(text);
  const reason = /^\s+reason\s*:\s*(?:"([^"\n]*)"|'([^'\n]*)'|([^\n#]*))/mu.exec(text);
  const listed: ListedVisit = {
    file,
    id: identity?.visit ?? "",
    patient: [identity?.given, identity?.family].filter(Boolean).join(" "),
    patientId: identity?.patient ?? "",
    born: identity?.born ?? "",
    date: identity?.date ?? "",
    reason: (reason?.[1] ?? reason?.[2] ?? reason?.[3] ?? "").trim(),
    state: identity ? (signed ? "signed" : "draft") : "problems",
    errors: identity ? 0 : 1,
  };
  return { hash, listed, recipients: before?.recipients ?? [], isWhole: false };
}

/** As much as the whole text tells. */
export function readWhole(desk: ReadFolder, file: string, hash: string): Kept {
  const path = join(desk.folder, file);
  const text = readText(path).value ?? "";
  const read = readAtDesk(text, path, desk);
  const { clinic } = desk.clinicOf(path);
  const ofClinic = read.value && clinic ? checkAgainstClinic(read.value, clinic) : [];
  const errors = [...read.problems, ...ofClinic].filter(({ severity }) => severity === "error").length;
  const written = writtenIn(text);
  const patient = mapIn(written, "patient");
  const name = mapIn(patient, "name");
  const listed: ListedVisit = {
    file,
    id: wordIn(mapIn(written, "visit"), "id"),
    patient: [wordIn(name, "given"), wordIn(name, "family")].filter(Boolean).join(" "),
    patientId: wordIn(patient, "id"),
    born: wordIn(patient, "born"),
    date: wordIn(mapIn(written, "visit"), "date"),
    reason: wordIn(mapIn(written, "visit"), "reason"),
    state: errors > 0 ? "problems" : isSigned(text) ? "signed" : "draft",
    errors,
  };
  const recipients = (read.value?.sendTo ?? [])
    .filter(({ role }) => !/parent|patient|self/iu.test(role))
    .map(({ role, name: called, address }) => ({ role, name: called, address }));
  return { hash, listed, recipients, isWhole: true };
}

export function mapIn(
  holder: Written | undefined,
  key: string,
): { readonly [key: string]: Written } | undefined {
  const value = isMap(holder) ? holder[key] : undefined;
  return isMap(value) ? value : undefined;
}

export function wordIn(holder: Written | undefined, key: string): string {
  const value = isMap(holder) ? holder[key] : undefined;
  return typeof value === "string" ? value : "";
}

export const isMap = (value: Written | undefined): value is { readonly [key: string]: Written } =>
  typeof value === "object" && value !== null && !Array.isArray(value);
