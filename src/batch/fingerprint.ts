/** Everything that a visit's documents depend on -> one hash, so that a second run makes only what changed. */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { inPackage } from "../base/root.js";
import { type Named, sha256 } from "../clinic-folder/scan.js";
import type { VisitFiles } from "../clinic-folder/visit-files.js";
import { liesInside } from "../files/write.js";
import { knowledgeHash } from "../knowledge/load.js";
import { templatesFolder } from "../letter/pack.js";
import { PHOTO_LIMITS } from "../page/photos.js";
import { readClinic } from "../visit/clinic.js";
import { readText } from "../visit/read.js";
import { Roll } from "./proof/roll.js";
import type { WorkItem } from "./source.js";
import { tokensOf } from "./token-text.js";

/** Raised when the same input gives other documents for a reason that no file shows. */
const GENERATION = "1";

export interface MakeSettings {
  readonly documents: readonly string[];
  readonly paper?: "A4" | "Letter";
  readonly language?: string;
  readonly largePrint?: boolean;
  readonly templates?: string;
  readonly drafts: boolean;
  readonly proof: boolean;
}

export interface Fingerprints {
  of(item: WorkItem, clinicFile: string): string;
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
  const roll = new Roll(settings.proof ? people : []);
  const photos = new Map<string, string>();
  const photoHash = (folder: string, photo: string) => {
    const file = join(folder, photo);
    const known = photos.get(file) ?? hashPhoto(folder, file);
    photos.set(file, known);
    return known;
  };
  return {
    of(item, clinicFile) {
      const scan = visits.scan(item.file);
      const near = visits.beside(item.file).map((file) => visits.scan(file).hash);
      return sha256(
        JSON.stringify([
          common,
          clinicHash(clinicFile),
          scan.hash,
          near,
          scan.photos.map((photo) => photoHash(dirname(item.file), photo)),
          item.overrides,
          roll.othersIn(tokensOf(readText(item.file).value ?? ""), scan.identity?.patient ?? "", []),
        ]),
      );
    },
  };
}

function hashClinic(file: string): string {
  const { value } = readClinic(file);
  return sha256(
    [
      fileHash(file),
      value?.logo ? fileHash(value.logo) : "",
      value?.templates ? folderHash(value.templates) : "",
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
