/** The only writer: a file appears whole or not at all, readable by those who may (mode.ts). */
import { randomBytes } from "node:crypto";
import {
  chmodSync,
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
import { modeFor, modeForFolder, setMode } from "./mode.js";
import { codeOf, writing } from "./not-written.js";
import { hasEndedShort, shortMark, thisProcess } from "./running.js";

const OWNER_ONLY = 0o700;
const TEMPORARY = /^\.whorl-(\S+)-[0-9a-f]{12}\.part$/u;
/** What systems answer that cannot sync a folder: Windows, some network disks. */
const NO_FOLDER_SYNC = new Set(["EINVAL", "ENOTSUP", "EISDIR", "EPERM", "EACCES"]);

/** Makes the folder, with its parents, and waits until they are on disk. Throws NotWritten. */
export function makeFolder(folder: string): void {
  writing(folder, () => {
    const mode = modeForFolder(resolve(folder));
    const first = mkdirSync(folder, { recursive: true, mode });
    if (first === undefined) return;
    const end = dirname(resolve(first));
    for (let here = resolve(folder); here !== end && here !== dirname(here); ) {
      // What the process masks would lock out the group of a shared folder.
      if (mode !== OWNER_ONLY) chmodSync(here, mode);
      here = dirname(here);
      syncFolder(here);
    }
  });
}

/** Waits until the names in a folder are on disk: a file that is synced and renamed may else have its old name after a power cut. */
export function syncFolder(folder: string): void {
  let handle: number | undefined;
  try {
    handle = openSync(folder, "r");
    fsyncSync(handle);
  } catch (error) {
    if (!NO_FOLDER_SYNC.has(codeOf(error))) throw error;
  } finally {
    if (handle !== undefined) closeSync(handle);
  }
}

/** A name beside `file` that says which process writes there. */
export function temporaryBeside(file: string): string {
  return join(dirname(file), `.whorl-${shortMark(thisProcess())}-${randomBytes(6).toString("hex")}.part`);
}

/**
 * Writes bytes under a temporary name beside the target, syncs, renames over it, and syncs the folder: an existing file is
 * replaced only by a complete one, and after the return not even a power cut takes it away. Throws NotWritten (disk full, no
 * permission) after removing the temporary file.
 */
export function writeWhole(file: string, bytes: Uint8Array | string): void {
  writeTogether([{ file, bytes }]);
}

/** As `writeWhole` for some files, with one sync for each folder. When one cannot be written, those before it stand. */
export function writeTogether(
  files: readonly { readonly file: string; readonly bytes: Uint8Array | string }[],
): void {
  for (const { file, bytes } of files) writeNamed(file, bytes);
  for (const folder of new Set(files.map(({ file }) => dirname(file))))
    writing(folder, () => syncFolder(folder));
}

function writeNamed(file: string, bytes: Uint8Array | string): void {
  makeFolder(dirname(file));
  writing(file, () => {
    const temporary = temporaryBeside(file);
    let handle: number | undefined;
    try {
      const mode = modeFor(file);
      handle = openSync(temporary, "wx", 0o600);
      setMode(handle, mode);
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
  });
}

/** Removes temporary files of runs that have ended from a folder; returns how many. One that is being written stays. */
export function sweepTemporary(folder: string): number {
  if (!existsSync(folder)) return 0;
  const left = readdirSync(folder).filter((name) =>
    hasEndedShort(TEMPORARY.exec(name)?.[1] ?? "", join(folder, name)),
  );
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
  writing(folder, () => renameSync(file, join(folder, basename(file))));
  return true;
}

/** Removes a folder that holds nothing; leaves any other, and one that is not there. */
export function removeIfEmpty(folder: string): void {
  if (existsSync(folder) && readdirSync(folder).length === 0) rmdirSync(folder);
}
