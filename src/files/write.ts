/** The only writer: a file appears whole or not at all, readable by its owner only. */
import { randomBytes } from "node:crypto";
import {
  closeSync,
  existsSync,
  fsyncSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  renameSync,
  rmdirSync,
  rmSync,
  writeSync,
} from "node:fs";
import { basename, dirname, join, resolve, sep } from "node:path";

const TEMPORARY = /^\.whorl-[0-9a-f]{12}\.part$/u;

/** Makes the folder, with its parents, for the owner only. */
export function makeFolder(folder: string): void {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
}

/**
 * Writes bytes under a temporary name beside the target, syncs, then renames over it: an existing file is replaced only by
 * a complete one. Throws the file system's error (disk full, no permission) after removing the temporary file.
 */
export function writeWhole(file: string, bytes: Uint8Array | string): void {
  const folder = dirname(file);
  makeFolder(folder);
  const temporary = join(folder, `.whorl-${randomBytes(6).toString("hex")}.part`);
  let handle: number | undefined;
  try {
    handle = openSync(temporary, "wx", 0o600);
    const data = typeof bytes === "string" ? Buffer.from(bytes, "utf8") : bytes;
    for (let done = 0; done < data.length; ) done += writeSync(handle, data, done);
    fsyncSync(handle);
    closeSync(handle);
    handle = undefined;
    renameSync(temporary, file);
  } catch (error) {
    if (handle !== undefined) closeSync(handle);
    rmSync(temporary, { force: true });
    throw error;
  }
}

/** Removes temporary files that a killed run left in a folder; returns how many. */
export function sweepTemporary(folder: string): number {
  if (!existsSync(folder)) return 0;
  const left = readdirSync(folder).filter((name) => TEMPORARY.test(name));
  for (const name of left) rmSync(join(folder, name), { force: true });
  return left.length;
}

/** True when `file` lies inside `folder` once both are resolved, and nothing on the way is a symbolic link. */
export function liesInside(folder: string, file: string): boolean {
  const root = resolve(folder);
  const target = resolve(file);
  if (target !== root && !target.startsWith(root + sep)) return false;
  let here = root;
  for (const part of target.slice(root.length).split(sep).filter(Boolean)) {
    here = join(here, part);
    if (existsSync(here) && lstatSync(here).isSymbolicLink()) return false;
  }
  return true;
}

/** A file name from ids: letters, digits, dot, hyphen and underscore only; never a path, never empty. */
export function safeName(...parts: string[]): string {
  const name = parts
    .map((p) =>
      basename(p)
        .replace(/[^\p{L}\p{N}._-]+/gu, "-")
        .replace(/^[.-]+/u, ""),
    )
    .filter(Boolean)
    .join("-");
  return name.slice(0, 120) || "visit";
}

/** Moves a file into a folder beside or below it, replacing one of the same name; true when there was a file to move. */
export function moveInto(file: string, folder: string): boolean {
  if (!existsSync(file)) return false;
  makeFolder(folder);
  renameSync(file, join(folder, basename(file)));
  return true;
}

/** Removes a folder that holds nothing; leaves any other, and one that is not there. */
export function removeIfEmpty(folder: string): void {
  if (existsSync(folder) && readdirSync(folder).length === 0) rmdirSync(folder);
}
