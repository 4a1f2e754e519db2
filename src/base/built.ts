/**
 * What the build worked out from files of the package, for as long as those files are as it found them. Where they only look
 * different, as in a copy with other times, their content decides.
 */
import { readdirSync, readFileSync, statSync } from "node:fs";
import { sep } from "node:path";

/** Names, sizes and times of all files below the folders: looking at each takes a tenth of reading it. */
export function looksOf(folders: readonly string[]): string {
  return folders.map((folder) => lookOf(folder)).join("\n");
}

function lookOf(folder: string): string {
  return readdirSync(folder, { withFileTypes: true })
    .map((entry) => {
      // Joining paths properly takes as long as looking.
      const path = folder + sep + entry.name;
      if (entry.isDirectory()) return `${entry.name}/\n${lookOf(path)}`;
      const { size, mtimeMs } = statSync(path);
      return `${entry.name} ${size} ${mtimeMs}`;
    })
    .sort()
    .join("\n");
}

/** JSON of plain ASCII, which is read in half the time. */
export function toAsciiJson(value: unknown): string {
  return JSON.stringify(value).replace(
    /[^\0-\x7f]/g,
    (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/** What the build left in a file of `toAsciiJson`; undefined when it is not there. */
export function readBuilt(file: string): unknown {
  try {
    return JSON.parse(readFileSync(file, "latin1"));
  } catch {
    return undefined;
  }
}
