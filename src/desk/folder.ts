/** The desk's folder: names a page may use -> files on disk, never outside the folder and never through a symbolic link. */
import { realpathSync } from "node:fs";
import { join, relative, resolve, sep } from "node:path";
import { mayNameVisit } from "../clinic-folder/find.js";
import type { VisitFiles } from "../clinic-folder/visit-files.js";
import { liesInside } from "../files/write.js";
import { HttpError } from "./http-error.js";

/** Absolute path of the folder with its own links resolved once. */
export function deskFolder(folder: string): string {
  return realpathSync(resolve(folder));
}

/** The absolute path of a visit file named by the page; throws Refused for anything but a plain YAML name inside the folder. */
export function visitPath(folder: string, name: unknown): string {
  if (typeof name !== "string" || name.length > 500 || /[\0\\:]/u.test(name))
    throw new HttpError(400, "No such visit.");
  const parts = name.split("/");
  if (parts.some((part) => part === "" || part.startsWith(".") || part === "node_modules"))
    throw new HttpError(400, "No such visit.");
  const path = join(folder, ...parts);
  if (!mayNameVisit(parts.at(-1) ?? "") || !liesInside(folder, path))
    throw new HttpError(400, "No such visit.");
  return path;
}

/** The name by which the page knows a file. */
export function nameOf(folder: string, path: string): string {
  return relative(folder, path).split(sep).join("/");
}

/** Visit files below the folder, by name. Hidden folders, made letters and links are passed over. */
export function visitNames(folder: string, visits: VisitFiles): string[] {
  return visits.below(folder).files.map((file) => nameOf(folder, file));
}
