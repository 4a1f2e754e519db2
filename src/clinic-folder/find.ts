/** A folder -> the files in it that may hold a visit, and what looks like one and is not taken. One answer for every command and the desk. */

import { lstatSync, readdirSync } from "node:fs";
import { join, resolve } from "node:path";
import type { Problem } from "../base/problem.js";
import { FOLDER_PROBLEMS } from "../base/problem-table.js";
import { isMarksFile } from "../picture/marks.js";

export type FolderProblemId = keyof typeof FOLDER_PROBLEMS;

export interface NotTaken {
  /** Absolute path. */
  readonly file: string;
  readonly id: FolderProblemId;
}

export interface Found {
  /** Absolute paths, sorted. */
  readonly files: readonly string[];
  readonly notTaken: readonly NotTaken[];
}

const YAML = /\.ya?ml$/iu;
const NO_VISIT = /^(?:clinic|mapping)\.ya?ml$/iu;

/** True for a file name that a visit may have. */
export function mayNameVisit(name: string): boolean {
  return YAML.test(name) && !NO_VISIT.test(name) && !isMarksFile(name);
}

/** Hidden folders are nobody's visits, and other people's programs lie in node_modules. */
function isPassedOver(name: string): boolean {
  return name.startsWith(".") || name === "node_modules";
}

/** YAML files below a folder; a link is named, never followed and never passed over in silence. */
export function yamlBelow(folder: string): Found {
  const files: string[] = [];
  const notTaken: NotTaken[] = [];
  const walk = (here: string) => {
    const entries = entriesOf(here);
    if (!entries) notTaken.push({ file: here, id: "unreadable-folder" });
    for (const entry of entries ?? []) {
      const file = join(here, entry.name);
      if (isPassedOver(entry.name)) continue;
      if (entry.isSymbolicLink()) {
        if (YAML.test(entry.name) || !/\.[^.]+$/u.test(entry.name))
          notTaken.push({ file, id: "symbolic-link" });
      } else if (entry.isDirectory()) walk(file);
      else if (mayNameVisit(entry.name)) {
        if (entry.isFile()) files.push(file);
        else notTaken.push({ file, id: "not-a-file" });
      }
    }
  };
  walk(resolve(folder));
  return { files: files.sort(byName), notTaken: notTaken.sort((a, b) => byName(a.file, b.file)) };
}

/** YAML files in a folder itself. */
export function yamlIn(folder: string): string[] {
  return (entriesOf(folder) ?? [])
    .filter((entry) => entry.isFile() && mayNameVisit(entry.name))
    .map((entry) => join(folder, entry.name))
    .sort(byName);
}

export function folderProblem({ file, id }: NotTaken): Problem {
  const { meaning, cure } = FOLDER_PROBLEMS[id];
  return { severity: "error", id, message: meaning, file, expected: cure };
}

/** True for an ordinary file, never for a link to one. */
export function isOrdinaryFile(file: string): boolean {
  try {
    return lstatSync(file).isFile();
  } catch {
    return false;
  }
}

function entriesOf(folder: string) {
  try {
    return readdirSync(folder, { withFileTypes: true });
  } catch {
    return undefined;
  }
}

const byName = (a: string, b: string) => (a < b ? -1 : a > b ? 1 : 0);
