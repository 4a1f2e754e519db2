/** Who may read and write what is written: its owner alone, unless the folder is shared on purpose or the file was open to others before. */
import { fchmodSync, lstatSync } from "node:fs";
import { dirname } from "node:path";

const GROUP_WRITES = 0o020;
const OTHERS_WRITE = 0o002;

/** A folder that a group works in together. One that everybody may write in, such as the system's for temporary files, is none. */
function isShared(folder: string): boolean {
  const mode = lstatSync(folder, { throwIfNoEntry: false })?.mode ?? 0;
  return (mode & GROUP_WRITES) !== 0 && (mode & OTHERS_WRITE) === 0;
}

/** The mode of the file that stands there, which it keeps; of a new one, that of its folder. */
export function modeFor(file: string): number {
  const there = lstatSync(file, { throwIfNoEntry: false });
  if (there?.isFile()) return there.mode & 0o777;
  return isShared(dirname(file)) ? 0o660 : 0o600;
}

/** The mode of a new folder. */
export function modeForFolder(folder: string): number {
  let above = dirname(folder);
  while (!lstatSync(above, { throwIfNoEntry: false }) && dirname(above) !== above) above = dirname(above);
  return isShared(above) ? 0o770 : 0o700;
}

/** Gives an open file its mode, whatever the process masks. Disks without modes are left as they are. */
export function setMode(handle: number, mode: number): void {
  try {
    fchmodSync(handle, mode);
  } catch {
    // A disk that knows no modes protects its files in another way, or not at all.
  }
}
