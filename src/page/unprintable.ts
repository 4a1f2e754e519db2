/** What cannot be printed with the typefaces at hand: which character, where it stands, and what to add. The one place that knows. */
import type { Problem } from "../base/problem.js";
import { type KeyPath, type SourcePlace, writePath, type YamlSource } from "../base/yaml-source.js";
import { pageError } from "./problems.js";
import { cleanText, graphemesOf } from "./type/characters.js";
import { type Faces, faceFor, using, withFaces } from "./type/fonts.js";

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

/**
 * The same in the values of a YAML file, each at its line; comments are never printed. `isPrinted` is asked of each text with
 * the path of its key, without the numbers of lists.
 */
export function unprintableIn(
  source: YamlSource,
  faces: Faces = withFaces({}),
  isPrinted: (key: string) => boolean = () => true,
): Problem[] {
  const found = new Map<string, Problem>();
  const walk = (value: unknown, path: KeyPath) => {
    if (typeof value === "string") {
      const key = path.filter((step) => typeof step === "string").join(".");
      if (!isPrinted(key)) return;
      for (const odd of unprintable(value, faces)) {
        if (found.has(odd.character)) continue;
        found.set(
          odd.character,
          pageError(
            "no-glyph",
            `"${odd.character}" (${odd.codes}) cannot be printed: no typeface at hand has it`,
            {
              file: source.file,
              path: writePath(path),
              found: odd.character,
              expected: odd.add,
              ...placeOf(odd.character, source, source.place(path)),
            },
          ),
        );
      }
    } else if (typeof value === "object" && value !== null)
      for (const [key, inner] of Object.entries(value))
        walk(inner, [...path, Array.isArray(value) ? Number(key) : key]);
  };
  walk(source.value, []);
  return [...found.values()];
}

/** Where the character stands in the value that starts at `start`; the start itself where it is written by its number. */
function placeOf(character: string, { lines }: YamlSource, start: SourcePlace): SourcePlace {
  for (let line = start.line; line <= lines.length; line++) {
    const from = line === start.line ? start.column - 1 : 0;
    const at = lines[line - 1]?.indexOf(character, from) ?? -1;
    if (at !== -1) return { line, column: at + 1, length: character.length };
    // A text that ends before its line does goes no further.
    if (line === start.line && start.length < (lines[line - 1]?.length ?? 0) - start.column + 1) break;
  }
  return start;
}
