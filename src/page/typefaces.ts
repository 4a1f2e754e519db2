/** A clinic's own typefaces, and what cannot be printed without them. */
import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { Problem } from "../base/problem.js";
import { pageError } from "./problems.js";
import { cleanText, graphemesOf } from "./type/characters.js";
import { type Cut, type Faces, faceFor, openFont, using, withFaces } from "./type/fonts.js";

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

/** Where typefaces of a script can be had: npm packages of font files under the Open Font License. */
const PACKAGES: readonly (readonly [script: string, test: RegExp, name: string])[] = [
  ["Devanagari", /\p{Script=Devanagari}/u, "@expo-google-fonts/noto-sans-devanagari"],
  ["Bengali", /\p{Script=Bengali}/u, "@expo-google-fonts/noto-sans-bengali"],
  ["Tamil", /\p{Script=Tamil}/u, "@expo-google-fonts/noto-sans-tamil"],
  ["Thai", /\p{Script=Thai}/u, "@expo-google-fonts/noto-sans-thai"],
  ["Ethiopic", /\p{Script=Ethiopic}/u, "@expo-google-fonts/noto-sans-ethiopic"],
  ["Japanese", /[\p{Script=Hiragana}\p{Script=Katakana}]/u, "@embedpdf/fonts-jp"],
  ["Korean", /\p{Script=Hangul}/u, "@embedpdf/fonts-kr"],
  ["Chinese", /\p{Script=Han}/u, "@embedpdf/fonts-sc, -tc or -jp"],
  ["emoji", /\p{Extended_Pictographic}/u, "@expo-google-fonts/noto-emoji"],
];

export interface Unprintable {
  /** The character as a reader sees it. */
  readonly character: string;
  /** Such as `U+0915 U+093F`. */
  readonly codes: string;
  /** Line of `text`, from 1, and column, from 1. */
  readonly line: number;
  readonly column: number;
  /** What to add, in a sentence. */
  readonly add: string;
}

/** Each character of `text` that none of the typefaces can print, once, where it first stands. */
export function unprintable(text: string, faces: Faces = withFaces({})): Unprintable[] {
  return using(faces, () => {
    const found = new Map<string, Unprintable>();
    for (const [i, line] of text.split("\n").entries()) {
      let column = 1;
      for (const character of graphemesOf(line)) {
        const clean = cleanText(character);
        if (clean.trim() !== "" && !found.has(character) && faceFor(clean, "normal", "bold") === undefined) {
          found.set(character, {
            character,
            codes: codesOf(character),
            line: i + 1,
            column,
            add: remedy(character),
          });
        }
        column += character.length;
      }
    }
    return [...found.values()];
  });
}

function codesOf(character: string): string {
  return [...character]
    .map((each) => `U+${(each.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}`)
    .join(" ");
}

function remedy(character: string): string {
  const [script, , name] = PACKAGES.find(([, test]) => test.test(character)) ?? [];
  const which =
    script === undefined ? "a typeface that has it" : `a typeface for ${script} (such as npm ${name})`;
  return `Put ${which} into the folder that "fonts:" of the clinic file names, or write it in other letters.`;
}
