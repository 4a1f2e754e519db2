/** What a person names on the command line -> visit files and the clinic file that belongs to them. */
import { existsSync, readdirSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";

const SKIPPED = /^(clinic|mapping)\.ya?ml$/iu;

/**
 * Files as named; folders are searched downwards for YAML files that hold a visit (a top-level `visit:` key), sorted.
 * A path that does not exist is passed on, so that the reader reports it.
 */
export function visitFiles(paths: readonly string[]): string[] {
  const found = paths.flatMap((path) => (isFolder(path) ? filesBelow(path) : [path]));
  return [...new Set(found.map((f) => resolve(f)))];
}

function isFolder(path: string): boolean {
  return existsSync(path) && statSync(path).isDirectory();
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true })
    .sort((a, b) => (a.name < b.name ? -1 : 1))
    .flatMap((entry) => {
      const path = join(folder, entry.name);
      if (entry.isDirectory())
        return entry.name.startsWith(".") || entry.name === "node_modules" ? [] : filesBelow(path);
      return entry.isFile() && /\.ya?ml$/iu.test(entry.name) && !SKIPPED.test(entry.name) && holdsVisit(path)
        ? [path]
        : [];
    });
}

/** A broken visit file must be reported, not skipped: anything that mentions `visit:` or `patient:` counts. */
function holdsVisit(path: string): boolean {
  const head = readFileSync(path).subarray(0, 65_536).toString("utf8").replaceAll("\0", "");
  return /^\s*(visit|patient)\s*[:=]/mu.test(head);
}

/** `clinic.yaml` beside the visit or in a folder above it. */
export function findClinicFile(visitFile: string): string | undefined {
  for (let folder = dirname(resolve(visitFile)); ; folder = dirname(folder)) {
    const file = join(folder, "clinic.yaml");
    if (existsSync(file)) return file;
    if (dirname(folder) === folder) return undefined;
  }
}

/** Other visit files in the folder of this one: a patient folder may hold several visits. */
export function visitsBeside(visitFile: string): string[] {
  const folder = dirname(resolve(visitFile));
  if (!isFolder(folder)) return [];
  return readdirSync(folder)
    .filter((name) => /\.ya?ml$/iu.test(name) && !SKIPPED.test(name) && name !== basename(visitFile))
    .sort()
    .map((name) => join(folder, name))
    .filter((path) => statSync(path).isFile() && holdsVisit(path));
}
