/** Where the installed package lives, found from this file, so that data files resolve from src and from dist alike. */
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** Absolute path of the package folder. */
export const packageRoot: string = join(dirname(fileURLToPath(import.meta.url)), "..", "..");

/** Joins parts below the package folder. */
export function inPackage(...parts: string[]): string {
  return join(packageRoot, ...parts);
}
