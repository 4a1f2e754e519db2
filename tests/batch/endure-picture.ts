/** A folder of letters as it lies on disk: what is in it, byte for byte, and what journal and manifest say of it. */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { basename, join } from "node:path";
import { parse } from "csv-parse/sync";
import { sha256 } from "../../src/base/sha256.js";
import { readJournal } from "../../src/batch/journal.js";
import { isManifest, MANIFEST, type Manifest } from "../../src/batch/manifest.js";

/** Hash by path from the folder, hidden files and folders left out. */
export type Picture = ReadonlyMap<string, string>;

export function pathsBelow(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((e) => e.isFile())
    .map((e) => join(e.parentPath, e.name).slice(folder.length + 1))
    .sort();
}

const isHidden = (path: string) => path.split("/").some((part) => part.startsWith("."));

export function pictureOf(folder: string): Picture {
  const paths = pathsBelow(folder).filter((path) => !isHidden(path));
  return new Map(paths.map((path) => [path, sha256(readFileSync(join(folder, path)))]));
}

/** Tells a file from one that was written anew, even with the same bytes. */
export function identityOf(file: string): string {
  const { ino, mtimeNs } = statSync(file, { bigint: true });
  return `${ino} ${mtimeNs}`;
}

/** The folder itself and its parts, as far as they hold a journal. */
export function journalFolders(out: string): string[] {
  return pathsBelow(out)
    .filter((path) => /(?:^|\/)\.whorl\/journal\.jsonl$/u.test(path))
    .map((path) => join(out, path, "..", ".."));
}

/** Documents that a journal vouches for under the fingerprint their visit should have, by absolute path. */
export function vouchedFor(out: string, fingerprints: ReadonlyMap<string, string>): string[] {
  return journalFolders(out).flatMap((folder) =>
    [...readJournal(folder).visits.values()]
      .filter((v) => fingerprints.get(v.key) === v.fingerprint)
      .flatMap((v) => v.documents.map((d) => join(folder, d.file))),
  );
}

/** By key, from every journal below the folder. */
export function fingerprintsIn(out: string): Map<string, string> {
  return new Map(
    journalFolders(out).flatMap((folder) =>
      [...readJournal(folder).visits.values()].map((v) => [v.key, v.fingerprint] as const),
    ),
  );
}

/** What a kill at any moment must leave true. `allowed`: hashes that a PDF of that name may have. */
export function faultsIn(out: string, allowed: ReadonlyMap<string, ReadonlySet<string>>): string[] {
  const picture = pictureOf(out);
  const faults: string[] = [];
  for (const [path, hash] of picture)
    if (path.endsWith(".pdf") && !allowed.get(basename(path))?.has(hash))
      faults.push(`${path} is not a whole document`);
  for (const folder of journalFolders(out)) faults.push(...journalFaults(folder));
  for (const path of picture.keys()) {
    if (basename(path) === MANIFEST) faults.push(...manifestFaults(join(out, path, "..")));
    if (basename(path) === "manifest.csv") csvRows(join(out, path));
  }
  return faults;
}

/** The journal vouches only for what stands, and answers for every PDF that does. */
function journalFaults(folder: string): string[] {
  const { visits, files } = readJournal(folder);
  const vouched = [...visits.values()].flatMap((v) => v.documents);
  const here = pictureOf(folder);
  const untrue = vouched.filter((d) => here.get(d.file) !== d.sha256);
  const unknown = [...here.keys()].filter(
    (path) => path.endsWith(".pdf") && !path.startsWith("withdrawn/") && !files.has(path),
  );
  return [
    ...untrue.map((d) => `the journal vouches for ${d.file}, which is not there or another`),
    ...unknown.map((path) => `nobody answers for ${path}`),
  ];
}

/** A manifest that is there reads, agrees with its table, and describes the documents as they lie. */
function manifestFaults(folder: string): string[] {
  const manifest = parsed(join(folder, MANIFEST));
  if (!manifest) return ["manifest.json cannot be read"];
  const { documents } = manifest;
  const changed = documents.filter((d) => hashOf(join(folder, d.file)) !== d.sha256);
  const faults = changed.map((d) => `the manifest names ${d.file}, which is not there or another`);
  if (new Set(documents.map((d) => d.file)).size < documents.length) faults.push("a document is named twice");
  if (!existsSync(join(folder, "manifest.csv"))) return [...faults, "manifest.json without manifest.csv"];
  const rows = csvRows(join(folder, "manifest.csv"));
  const wanted = documents.map((d) => [d.visit, d.patient, d.file, d.sha256, d.state].join());
  const found = rows.map((r) => [r.visit, r.patient_id, r.file, r.sha256, r.state].join());
  if (wanted.join("\n") !== found.join("\n")) faults.push("manifest.csv and manifest.json disagree");
  return faults;
}

function csvRows(file: string): Record<string, string>[] {
  return parse(readFileSync(file), { bom: true, columns: true });
}

function parsed(file: string): Manifest | undefined {
  try {
    const value: unknown = JSON.parse(readFileSync(file, "utf8"));
    return isManifest(value) ? value : undefined;
  } catch {
    return undefined;
  }
}

function hashOf(file: string): string {
  return existsSync(file) ? sha256(readFileSync(file)) : "";
}
