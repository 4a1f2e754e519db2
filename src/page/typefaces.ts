/** A clinic's own typefaces, read from its folder. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { Problem } from "../base/problem.js";
import { pageError } from "./problems.js";
import { type Cut, type Faces, openFont, withFaces } from "./type/fonts.js";

/** By folder. A clinic that changes its folder starts the program again. */
const read = new Map<string, { readonly value: Faces; readonly problems: readonly Problem[] }>();

/** Our typefaces and those of `folder`: TTF or OTF files, one a cut, told apart by Bold, Italic or Oblique in their names. */
export function readTypefaces(folder: string | undefined): {
  readonly value: Faces;
  readonly problems: readonly Problem[];
} {
  if (folder === undefined) return { value: withFaces({}), problems: [] };
  let found = read.get(folder);
  if (!found) {
    found = readFolder(folder);
    // A folder that is not right yet is looked at again.
    if (found.problems.length === 0) read.set(folder, found);
  }
  return found;
}

function namesIn(folder: string): string[] | undefined {
  try {
    return readdirSync(folder, { recursive: true, encoding: "utf8" })
      .filter((name) => /\.(?:ttf|otf)$/i.test(name))
      .sort();
  } catch {
    return undefined;
  }
}

function readFolder(folder: string): { value: Faces; problems: Problem[] } {
  const names = namesIn(folder);
  if (!names || names.length === 0) {
    const message = `the folder of typefaces "${folder}" ${names ? "holds no TTF or OTF file" : "cannot be read"}`;
    return { value: withFaces({}), problems: [pageError("typeface-missing", message, { found: folder })] };
  }
  const problems: Problem[] = [];
  const families = new Map<string, Partial<Record<Cut, string>>>();
  for (const name of names) {
    const path = join(folder, name);
    try {
      const font = openFont(path);
      // Some typefaces call each cut a family.
      const family = font.familyName.replace(/(?:\s+(?:regular|bold|semibold|italic|oblique))+$/i, "");
      const cuts = families.get(family) ?? {};
      families.set(family, cuts);
      cuts[cutOf(name)] ??= path;
    } catch {
      problems.push(pageError("typeface-broken", `"${name}" cannot be read as a typeface`, { found: name }));
    }
  }
  const table: Record<string, Record<Cut, string>> = {};
  for (const [family, { normal, bold, italics, bolditalics }] of families) {
    const upright = normal ?? bold ?? italics ?? bolditalics ?? "";
    const strong = bold ?? upright;
    table[family] = {
      normal: upright,
      bold: strong,
      italics: italics ?? upright,
      bolditalics: bolditalics ?? strong,
    };
  }
  return { value: withFaces(table), problems };
}

function cutOf(name: string): Cut {
  const isBold = /bold/i.test(name);
  if (/italic|oblique/i.test(name)) return isBold ? "bolditalics" : "italics";
  return isBold ? "bold" : "normal";
}
