/** Everything that a visit's documents depend on -> one hash, so that a second run makes only what changed. */

import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { inPackage } from "../base/root.js";
import { sha256 } from "../base/sha256.js";
import type { Named } from "../clinic-folder/scan.js";
import type { VisitFiles } from "../clinic-folder/visit-files.js";
import { liesInside } from "../files/write.js";
import { knowledgeHash } from "../knowledge/load.js";
import { templatesFolder } from "../letter/pack.js";
import { PHOTO_LIMITS } from "../page/photos.js";
import { marksFileOf } from "../picture/marks.js";
import type { KnownLetter } from "../register/editions.js";
import { readClinic } from "../visit/clinic.js";
import { readText } from "../visit/read.js";
import type { Manifest } from "./manifest.js";
import { PatientIndex } from "./proof/patient-index.js";
import type { WorkItem } from "./source.js";
import { tokensOf } from "./token-text.js";

/** Raised when the same input gives other documents for a reason that no file shows. */
const GENERATION = "2";

export type MakeSettings = Manifest["settings"] & { readonly proof: boolean };

/** Hashes of the files that a visit's documents are made from, by what they are for. */
export interface Inputs {
  readonly visit: string;
  /** By path. */
  readonly beside: Readonly<Record<string, string>>;
  readonly clinic: string;
  /** Photos and the marks beside them, by path; of earlier visits those photos that are marked. */
  readonly photos: Readonly<Record<string, string>>;
}

export interface Planned {
  readonly fingerprint: string;
  readonly inputs: Inputs;
}

export interface Fingerprints {
  /** `letters` are those of earlier editions that the register knows. */
  of(item: WorkItem, clinicFile: string, letters: readonly KnownLetter[]): Planned;
}

/**
 * True when a worker read what was planned, so that the fingerprint speaks of what it made. A file may be edited at any moment of
 * a run, and put back before the end. A photo that the plan does not know is looked at now.
 */
export function isAsPlanned({ inputs }: Planned, read: Inputs): boolean {
  const planned = { ...inputs.beside, ...inputs.photos };
  const same = (found: Inputs["beside"]) =>
    Object.entries(found).every(([file, hash]) => (planned[file] ?? fileHash(file)) === hash);
  return (
    // Empty when an error of the clinic file came first.
    (read.visit === inputs.visit || read.visit === "") &&
    read.clinic === inputs.clinic &&
    same(read.beside) &&
    same(read.photos)
  );
}

/**
 * Hashes version, knowledge and templates once; then each visit with its clinic file, its neighbours, its photos, its settings,
 * and the other `people` of the run it speaks of: a patient who joins later may stand in a letter that was good before.
 */
export function fingerprints(
  settings: MakeSettings,
  visits: VisitFiles,
  people: readonly Named[],
): Fingerprints {
  const common = sha256(
    JSON.stringify([
      GENERATION,
      packageVersion(),
      knowledgeHash(),
      folderHash(templatesFolder),
      settings.templates ? folderHash(settings.templates) : "",
      settings,
    ]),
  );
  const clinics = new Map<string, string>();
  const clinicHash = (file: string) => {
    const known = clinics.get(file) ?? hashClinic(file);
    clinics.set(file, known);
    return known;
  };
  const roll = new PatientIndex(settings.proof ? people : []);
  const photos = new Map<string, string>();
  const photoHash = (folder: string, photo: string) => {
    const file = join(folder, photo);
    const known = photos.get(file) ?? hashPhoto(folder, file);
    photos.set(file, known);
    return known;
  };
  const photosOf = (file: string, all: boolean): [string, string][] =>
    visits.scan(file).photos.flatMap((photo): [string, string][] => {
      const folder = dirname(file);
      const marks = marksFileOf(photo);
      const hash = photoHash(folder, marks);
      const own: [string, string][] =
        all || hash !== "" ? [[join(folder, photo), photoHash(folder, photo)]] : [];
      return [...own, ...(hash === "" ? [] : [[join(folder, marks), hash] as [string, string]])];
    });
  return {
    of(item, clinicFile, letters) {
      const scan = visits.scan(item.file);
      const inputs: Inputs = {
        visit: scan.hash,
        beside: Object.fromEntries(visits.beside(item.file).map((file) => [file, visits.scan(file).hash])),
        clinic: clinicHash(clinicFile),
        photos: Object.fromEntries([
          ...photosOf(item.file, true),
          ...visits.beside(item.file).flatMap((file) => photosOf(file, false)),
        ]),
      };
      const fingerprint = sha256(
        JSON.stringify([
          common,
          inputs.clinic,
          inputs.visit,
          Object.values(inputs.beside),
          Object.values(inputs.photos),
          item.overrides,
          letters,
          roll.othersIn(tokensOf(readText(item.file).value ?? ""), scan.identity?.patient ?? "", []),
        ]),
      );
      return { fingerprint, inputs };
    },
  };
}

/** Over a clinic file and what it names: its logo, its templates. */
export function hashClinic(file: string): string {
  const { value } = readClinic(file);
  return sha256(
    [
      fileHash(file),
      value?.logo ? fileHash(value.logo) : "",
      value?.templates ? folderHash(value.templates) : "",
      value?.fonts ? folderHash(value.fonts) : "",
    ].join("\n"),
  );
}

/** Content of a photo that a letter may show, so that one replaced by another of its size is noticed; of no other file. */
function hashPhoto(folder: string, file: string): string {
  const stat = statSync(file, { throwIfNoEntry: false });
  if (!stat?.isFile() || stat.size > PHOTO_LIMITS.bytes || !liesInside(folder, file)) return "";
  return fileHash(file);
}

function fileHash(file: string): string {
  try {
    return sha256(readFileSync(file));
  } catch {
    return "";
  }
}

function folderHash(folder: string): string {
  if (!existsSync(folder)) return "";
  const files = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((e) => e.isFile())
    .map((e) => join(e.parentPath, e.name))
    .sort();
  return sha256(files.map((f) => `${f.slice(folder.length)}\n${fileHash(f)}`).join("\n"));
}

export function packageVersion(): string {
  const parsed: unknown = JSON.parse(readFileSync(inPackage("package.json"), "utf8"));
  return typeof parsed === "object" && parsed !== null && "version" in parsed ? String(parsed.version) : "0";
}
