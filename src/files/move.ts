/** A file gets another name, and never that of one that is there. */
import { closeSync, existsSync, openSync, renameSync, rmSync } from "node:fs";
import { dirname } from "node:path";
import { writing } from "./not-written.js";
import { makeFolder, syncFolder, writeWhole } from "./write.js";

/**
 * Moves a file to a name that nothing has; both folders are on disk after. The name is claimed first, since a rename would
 * replace what another program has put there a moment ago. Throws NotWritten; EEXIST when the name is taken.
 */
export function moveTo(file: string, to: string): void {
  makeFolder(dirname(to));
  writing(to, () => {
    closeSync(openSync(to, "wx", 0o600));
    try {
      renameSync(file, to);
    } catch (error) {
      rmSync(to, { force: true });
      throw error;
    }
    for (const folder of new Set([dirname(to), dirname(file)])) syncFolder(folder);
  });
}

/** Writes files that are not there yet: all of them, or none. Returns the names that are taken; then nothing is written. */
export function writeAllNew(files: readonly { readonly file: string; readonly text: string }[]): string[] {
  const taken = files.map(({ file }) => file).filter((file) => existsSync(file));
  if (taken.length > 0) return taken;
  const written: string[] = [];
  try {
    for (const { file, text } of files) {
      writeWhole(file, text);
      written.push(file);
    }
  } catch (error) {
    for (const file of written) rmSync(file, { force: true });
    throw error;
  }
  return [];
}
