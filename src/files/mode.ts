/** Who may read and write what is written: its owner alone, unless a group shares the folder or the file was open to others before. */
import { fchmodSync, lstatSync } from "node:fs";
import { dirname } from "node:path";

const GROUP = 0o070;
const SET_GROUP = 0o2000;
const GROUP_WRITES = 0o020;
const OTHERS_WRITE = 0o002;

/**
 * What the group may do in a folder that it works in together. One that everybody may write in, such as the system's for
 * temporary files, is shared by nobody.
 */
function groupShare(folder: string): number {
  const mode = lstatSync(folder, { throwIfNoEntry: false })?.mode ?? 0;
  const isShared = (mode & GROUP_WRITES) !== 0 && (mode & OTHERS_WRITE) === 0;
  return isShared ? mode & (GROUP | SET_GROUP) : 0;
}

/** The mode of the file that stands there, which it keeps; of a new one, that of its folder. */
export function modeFor(file: string): number {
  const there = lstatSync(file, { throwIfNoEntry: false });
  if (there?.isFile()) return there.mode & 0o777;
  return 0o600 | (groupShare(dirname(file)) & 0o060);
}

/** The mode of a new folder: the group's too where the folder above is. */
export function modeForFolder(folder: string): number {
  let above = dirname(folder);
  while (!lstatSync(above, { throwIfNoEntry: false }) && dirname(above) !== above) above = dirname(above);
  return 0o700 | groupShare(above);
}

/** Gives an open file its mode, whatever the process masks. Disks without modes are left as they are. */
export function setMode(handle: number, mode: number): void {
  try {
    fchmodSync(handle, mode);
  } catch {
    // A disk that knows no modes protects its files in another way, or not at all.
  }
}
