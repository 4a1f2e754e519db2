/** Where a clinic's register lies: one file beside the clinic file, and a folder with the content that its lines name. */
import { existsSync } from "node:fs";
import { dirname, join } from "node:path";
import { CLINIC_FILE } from "../clinic-folder/clinic-file.js";

export const REGISTER_FILE = "register.jsonl";
export const REGISTER_FOLDER = "register";

export const registerFile = (folder: string): string => join(folder, REGISTER_FILE);
export const registerFolder = (folder: string): string => join(folder, REGISTER_FOLDER);
export const lastFile = (folder: string): string => join(folder, REGISTER_FOLDER, "last.json");
export const lockFile = (folder: string): string => join(folder, REGISTER_FOLDER, "lock");

/** True where a register has begun. */
export function hasRegister(folder: string): boolean {
  return existsSync(registerFile(folder)) || existsSync(lastFile(folder));
}

/** The folder of the clinic that a folder or file belongs to: the nearest one above it, itself included, with a clinic file. */
export function clinicFolderOf(path: string): string | undefined {
  for (let here = path; ; here = dirname(here)) {
    if (existsSync(join(here, CLINIC_FILE))) return here;
    if (here === dirname(here)) return undefined;
  }
}
