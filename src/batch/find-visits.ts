/** Folders -> visit files, the clinic file that belongs to them, and other visits of the same patient. */
import { existsSync, lstatSync, readdirSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import type { Reason } from "./outcome.js";
import { reason } from "./outcome.js";
import { type Scan, scanVisit } from "./scan.js";

const YAML = /\.ya?ml$/iu;
const NO_VISIT = /^(clinic|mapping)\.ya?ml$/iu;

export interface FoundFiles {
  /** Absolute paths, sorted. */
  readonly files: readonly string[];
  /** What looked like a visit and was not followed, by absolute path. */
  readonly refused: readonly { readonly file: string; readonly reason: Reason }[];
}

/** YAML files below a folder, leaving out hidden folders; a symbolic link is refused, never followed and never passed over in silence. */
export function yamlBelow(folder: string): FoundFiles {
  const files: string[] = [];
  const refused: { file: string; reason: Reason }[] = [];
  const walk = (here: string) => {
    for (const entry of readdirSync(here, { withFileTypes: true })) {
      const path = join(here, entry.name);
      if (entry.name.startsWith(".") || entry.name === "node_modules") continue;
      if (entry.isSymbolicLink()) {
        if (YAML.test(entry.name) || !/\.[^.]+$/u.test(entry.name))
          refused.push({ file: path, reason: reason("symbolic-link") });
      } else if (entry.isDirectory()) walk(path);
      else if (YAML.test(entry.name) && !NO_VISIT.test(entry.name)) {
        if (entry.isFile()) files.push(path);
        else refused.push({ file: path, reason: reason("not-a-file") });
      }
    }
  };
  walk(resolve(folder));
  const byPath = (a: string, b: string) => (a < b ? -1 : 1);
  return { files: files.sort(byPath), refused: refused.sort((a, b) => byPath(a.file, b.file)) };
}

/** Finds `clinic.yaml` beside a file or in a folder above it, asking each folder once. */
export function clinicFinder(): (file: string) => string | undefined {
  const known = new Map<string, string | undefined>();
  const find = (folder: string): string | undefined => {
    if (known.has(folder)) return known.get(folder);
    const file = join(folder, "clinic.yaml");
    const above = dirname(folder);
    const found = existsSync(file) ? file : above === folder ? undefined : find(above);
    known.set(folder, found);
    return found;
  };
  return (file) => find(dirname(resolve(file)));
}

/**
 * Finds the files in the folder of a visit that name one of the same ids, so that earlier visits of the patient can be read
 * without reading every file of the folder for every visit. Each file is scanned once.
 */
export class Neighbours {
  private readonly scans = new Map<string, Scan>();
  private readonly folders = new Map<string, Map<string, string[]>>();

  scan(file: string): Scan {
    const known = this.scans.get(file);
    if (known) return known;
    const scan = scanVisit(file);
    this.scans.set(file, scan);
    return scan;
  }

  of(file: string): string[] {
    const byId = this.folderOf(dirname(file));
    const near = new Set(this.scan(file).ids.flatMap((id) => byId.get(id) ?? []));
    near.delete(file);
    return [...near].sort();
  }

  private folderOf(folder: string): Map<string, string[]> {
    const known = this.folders.get(folder);
    if (known) return known;
    const byId = new Map<string, string[]>();
    for (const name of readdirSync(folder).sort()) {
      const file = join(folder, name);
      if (!YAML.test(name) || NO_VISIT.test(name) || !lstatSync(file).isFile()) continue;
      for (const id of new Set(this.scan(file).ids)) {
        const files = byId.get(id);
        if (files) files.push(file);
        else byId.set(id, [file]);
      }
    }
    this.folders.set(folder, byId);
    return byId;
  }
}
