/**
 * A folder with the typefaces of our letters, for contestants that choose by weight from what they find, and a full bold: without
 * it a browser would thicken the semi-bold itself, which is slower and looks worse.
 */
import { existsSync, mkdirSync, symlinkSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { BODY_FACE, TYPEFACES } from "../../src/page/type/fonts.js";

/** Makes the folder below `scratch` when it is not there yet. */
export function facesFolder(scratch: string): string {
  const folder = join(scratch, "faces");
  if (existsSync(folder)) return folder;
  mkdirSync(folder);
  const files = new Set(Object.values(TYPEFACES).flatMap((cuts) => Object.values(cuts)));
  const normal = TYPEFACES[BODY_FACE]?.normal ?? "";
  files.add(join(dirname(normal), basename(normal).replace("Regular", "Bold")));
  for (const file of files) symlinkSync(file, join(folder, basename(file)));
  return folder;
}
