/** Everything that a visit's documents depend on -> one hash, so that a second run makes only what changed. */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { dirname, join } from "node:path";
import { inPackage } from "../base/root.js";
import { knowledgeHash } from "../knowledge/load.js";
import { templatesFolder } from "../letter/pack.js";
import { readClinic } from "../visit/clinic.js";
import type { Neighbours } from "./find-visits.js";
import { sha256 } from "./scan.js";
import type { WorkItem } from "./source.js";

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

/** Hashes version, knowledge and templates once; then each visit with its clinic file, its neighbours and its settings. */
export function fingerprints(settings: MakeSettings, neighbours: Neighbours): Fingerprints {
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
  return {
    of(item, clinicFile) {
      const near = neighbours.of(item.file).map((file) => neighbours.scan(file).hash);
      return sha256(
        JSON.stringify([
          common,
          clinicHash(clinicFile),
          neighbours.scan(item.file).hash,
          near,
          neighbours.scan(item.file).photos.map((photo) => stampOf(join(dirname(item.file), photo))),
          item.overrides,
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

/** Size and time of a photo: to read every photo of every visit would take longer than to make the letters. */
function stampOf(file: string): string {
  const stat = statSync(file, { throwIfNoEntry: false });
  return stat ? `${stat.size} ${stat.mtimeMs}` : "";
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
