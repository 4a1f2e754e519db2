/** The typefaces, read from disk once: which one has a character, and how wide words are. */
import { createRequire } from "node:module";
import type { Font, Glyph } from "fontkit";
import { inPackage } from "../../base/root.js";

export type Cut = "normal" | "bold" | "italics" | "bolditalics";

const require = createRequire(import.meta.url);

/** Put there by the build. */
const cut = (name: string) => inPackage("dist", "typefaces", `${name}.ttf`);

function uprightOnly(family: string): Readonly<Record<Cut, string>> {
  const [normal, bold] = [cut(`${family}-Regular`), cut(`${family}-Bold`)];
  return { normal, bold, italics: normal, bolditalics: bold };
}

/**
 * Typefaces in the order they are tried. The names are also what drawings may ask for in font-family.
 * The Noto faces (OFL 1.1) have Latin, Greek, Cyrillic and Vietnamese, Arabic and Hebrew; DejaVu Sans (Bitstream Vera licence)
 * adds signs, arrows, Armenian and Georgian. Scripts that none of them has are refused.
 */
export const TYPEFACES: Readonly<Record<string, Readonly<Record<Cut, string>>>> = {
  "Noto Sans": {
    normal: cut("NotoSans-Regular"),
    bold: cut("NotoSans-SemiBold"),
    italics: cut("NotoSans-Italic"),
    bolditalics: cut("NotoSans-SemiBoldItalic"),
  },
  "Noto Naskh Arabic": uprightOnly("NotoNaskhArabic"),
  "Noto Sans Hebrew": uprightOnly("NotoSansHebrew"),
  "DejaVu Sans": {
    normal: cut("DejaVuSans"),
    bold: cut("DejaVuSans-Bold"),
    italics: cut("DejaVuSans-Oblique"),
    bolditalics: cut("DejaVuSans-BoldOblique"),
  },
};

export const BODY_FACE = "Noto Sans";

/** Typefaces in the order they are tried, and what was found out with them. */
export interface Faces {
  readonly table: Readonly<Record<string, Readonly<Record<Cut, string>>>>;
  /** Names a set of faces, for what is remembered. */
  readonly id: string;
  /** Widths in ems, by cut and character. */
  readonly widths: Map<string, number>;
}

const OURS: Faces = { table: TYPEFACES, id: "", widths: new Map() };

let current: Faces = OURS;

/** The typefaces in use. */
export function facesInUse(): Faces {
  return current;
}

/** Our typefaces with those of a clinic after them. */
export function withFaces(table: Faces["table"]): Faces {
  if (Object.keys(table).length === 0) return OURS;
  const id = Object.values(table)
    .map(({ normal }) => normal)
    .join();
  return { table: { ...TYPEFACES, ...table }, id, widths: new Map() };
}

/** Does `act` with these typefaces; what is set elsewhere meanwhile is not touched, since `act` does not wait for anything. */
export function using<T>(faces: Faces, act: () => T): T {
  const before = current;
  current = faces;
  try {
    return act();
  } finally {
    current = before;
  }
}

/**
 * The font library keeps one object a glyph, and with it the characters of the text in which that glyph came first, or none
 * when it was first met inside an accented letter. Shared between letters, that would lose or swap characters in the text
 * of the PDF. Here each set of characters gets an object of its own.
 */
function keepCharactersApart(font: Font): void {
  const getGlyph = font.getGlyph.bind(font);
  const kept = new Map<string, Glyph>();
  font.getGlyph = (id: number, characters: number[] = []) => {
    const plain = getGlyph(id, []);
    if (characters.length === 0) return plain;
    const key = `${id} ${characters.join()}`;
    let glyph = kept.get(key);
    if (!glyph) {
      glyph = Object.create(plain, { codePoints: { value: characters } }) as Glyph;
      kept.set(key, glyph);
    }
    return glyph;
  };
}

/** A glyph with the library's inner act of reading its outline. */
interface OutlinedGlyph extends Glyph {
  _decode(): unknown;
}

/** Each document's subset of the font asks for the outlines of its glyphs; here each is read from the font file once. */
function readOutlinesOnce(font: Font): void {
  const getGlyph = font.getGlyph.bind(font);
  const known = new Set<number>();
  font.getGlyph = (id: number, characters?: number[]) => {
    const glyph = getGlyph(id, characters) as OutlinedGlyph;
    if (known.has(id) || typeof glyph._decode !== "function") return glyph;
    known.add(id);
    let outline: unknown;
    const { _decode } = glyph;
    glyph._decode = () => {
      outline ??= _decode.call(glyph);
      return outline;
    };
    return glyph;
  };
}

/** A font with the library's inner store of the tables it has read, and the way to those it has not. */
interface StoredFont extends Font {
  readonly _tables: Record<string, unknown>;
  _getTableStream(tag: string): TableStream | null;
}

interface TableStream {
  pos: number;
  readInt32BE(): number;
  readInt16BE(): number;
}

/** Asked for what stands at the head of this table, the library reads the name of every glyph too, which nobody wants. */
function readPostWithoutNames(font: StoredFont): void {
  const stream = font._getTableStream("post");
  if (!stream) return;
  // Version 3 has no names. It begins with its own number.
  stream.pos += 4;
  font._tables["post"] = {
    version: 3,
    italicAngle: stream.readInt32BE() / 65536,
    underlinePosition: stream.readInt16BE(),
    underlineThickness: stream.readInt16BE(),
    isFixedPitch: stream.readInt32BE(),
  };
}

const opened = new Map<string, Font>();

/** The parsed font file, kept for the life of the process. */
export function openFont(path: string): Font {
  let font = opened.get(path);
  if (!font) {
    // The engine requires the CommonJS build; asking for the same one loads it once.
    const fontkit = require("fontkit") as typeof import("fontkit");
    const made = fontkit.openSync(path);
    if (!("layout" in made)) throw new Error(`${path} is a collection of fonts, not one font`);
    font = made;
    readPostWithoutNames(font as StoredFont);
    readOutlinesOnce(font);
    keepCharactersApart(font);
    opened.set(path, font);
  }
  return font;
}

/** Scripts whose words the engine sets right; others need reordering that would garble the text read back. */
const SCRIPTS =
  /[\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Armenian}\p{Script=Georgian}\p{Script=Arabic}\p{Script=Hebrew}\p{Script=Common}\p{Script=Inherited}]/u;

/** By font file, then by code point. */
const held = new Map<string, Map<number, boolean>>();

function hasCharacter(face: string, cut: Cut, codePoint: number): boolean {
  const path = current.table[face]?.[cut];
  if (path === undefined) return false;
  const isOurs = TYPEFACES[face] !== undefined;
  let known = held.get(path);
  if (!known) {
    known = new Map();
    held.set(path, known);
  }
  let found = known.get(codePoint);
  if (found === undefined) {
    const isTried = !isOurs || SCRIPTS.test(String.fromCodePoint(codePoint));
    found = isTried && openFont(path).hasGlyphForCodePoint(codePoint);
    known.set(codePoint, found);
  }
  return found;
}

/** Joiners and variation selectors shape their neighbours and need no sign of their own. */
function needsSign(codePoint: number): boolean {
  return !(codePoint === 0x200c || codePoint === 0x200d || (codePoint >= 0xfe00 && codePoint <= 0xfe0f));
}

/** The first typeface that has every character of `text` in all of these cuts, or undefined. Cuts of one face can differ. */
export function faceFor(text: string, ...cuts: readonly Cut[]): string | undefined {
  return Object.keys(current.table).find((face) => {
    for (const character of text) {
      const codePoint = character.codePointAt(0) ?? 0;
      if (codePoint <= 0x1f || !needsSign(codePoint)) continue;
      if (!cuts.every((cut) => hasCharacter(face, cut, codePoint))) return false;
    }
    return true;
  });
}

/** Width of `text` in points on one line, without kerning. */
export function textWidth(text: string, size: number, cut: Cut = "normal"): number {
  const { widths, table } = current;
  let total = 0;
  for (const character of text) {
    const key = cut + character;
    let width = widths.get(key);
    if (width === undefined) {
      const face = faceFor(character, cut) ?? BODY_FACE;
      const font = openFont(table[face]?.[cut] ?? "");
      width = font.glyphForCodePoint(character.codePointAt(0) ?? 0).advanceWidth / font.unitsPerEm;
      widths.set(key, width);
    }
    total += width;
  }
  return total * size;
}

/** The widths of the words between spaces at type size 1, by line. */
export function wordWidths(text: string, cut: Cut): number[][] {
  return text.split("\n").map((line) => line.split(/ +/).map((word) => textWidth(word, 1, cut)));
}

/** Number of lines `text` takes in a column of `width` points when broken at spaces; explicit line ends count. */
export function countLines(text: string, width: number, size: number, cut: Cut = "normal"): number {
  return linesOf(wordWidths(text, cut), textWidth(" ", size, cut), width, size);
}

/** As `countLines`, for words whose widths are known. */
export function linesOf(
  paragraphs: readonly (readonly number[])[],
  space: number,
  width: number,
  size: number,
): number {
  let lines = 0;
  for (const words of paragraphs) {
    let used = 0;
    lines += 1;
    for (const word of words) {
      const long = word * size;
      if (used > 0 && used + space + long > width) {
        lines += 1;
        used = 0;
      }
      lines += Math.max(0, Math.ceil(long / width) - 1);
      used += (used > 0 ? space : 0) + long;
    }
  }
  return lines;
}

/** Height of a line in ems at the engine's line height 1: ascent plus descent, such as 1.362 for Noto Sans. */
export function naturalLine(face: string): number {
  const font = openFont(current.table[face]?.normal ?? "");
  return (font.ascent - font.descent) / font.unitsPerEm;
}
