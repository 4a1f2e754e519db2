/** The desk's folder: names a page may use -> files on disk, never outside the folder and never through a symbolic link. */
import { lstatSync, readdirSync, readFileSync, realpathSync } from "node:fs";
import { join, relative, resolve, sep } from "node:path";
import { liesInside } from "../files/write.js";
import { Refused } from "./refused.js";

const YAML = /\.ya?ml$/iu;
const NO_VISIT = /^(?:clinic|mapping)\.ya?ml$/iu;
const MOST_FILES = 5000;

/** Absolute path of the folder with its own links resolved once. */
export function deskFolder(folder: string): string {
  return realpathSync(resolve(folder));
}

/** The absolute path of a visit file named by the page; throws Refused for anything but a plain YAML name inside the folder. */
export function visitPath(folder: string, name: unknown): string {
  if (typeof name !== "string" || name.length > 500 || /[\0\\:]/u.test(name) || !YAML.test(name))
    throw new Refused(400, "No such visit.");
  const parts = name.split("/");
  if (parts.some((part) => part === "" || part.startsWith(".") || part === "node_modules"))
    throw new Refused(400, "No such visit.");
  const path = join(folder, ...parts);
  if (NO_VISIT.test(parts.at(-1) ?? "") || !liesInside(folder, path))
    throw new Refused(400, "No such visit.");
  return path;
}

/** True when the visit file is there as an ordinary file. */
export function isThere(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false })?.isFile() === true;
}

/** The name by which the page knows a file. */
export function nameOf(folder: string, path: string): string {
  return relative(folder, path).split(sep).join("/");
}

/** Visit files below the folder, by name. Hidden folders, made letters and links are passed over. */
export function visitNames(folder: string): string[] {
  const names: string[] = [];
  const walk = (here: string) => {
    for (const entry of readdirSync(here, { withFileTypes: true })) {
      if (names.length >= MOST_FILES) return;
      const path = join(here, entry.name);
      if (entry.name.startsWith(".") || entry.name === "node_modules") continue;
      if (entry.isDirectory()) walk(path);
      else if (entry.isFile() && YAML.test(entry.name) && !NO_VISIT.test(entry.name) && mentionsVisit(path))
        names.push(nameOf(folder, path));
    }
  };
  walk(folder);
  return names.sort();
}

/** A broken visit file must be listed too: anything that mentions a visit or a patient counts. */
function mentionsVisit(path: string): boolean {
  return /^\s*(?:visit|patient)\s*[:=]/mu.test(readFileSync(path).subarray(0, 65_536).toString("utf8"));
}
