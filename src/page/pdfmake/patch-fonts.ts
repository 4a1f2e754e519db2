/** Lets every document share parsed fonts and shaped words; the engine alone parses each font file for each letter. Bytes do not change. */

import { openFont } from "../type/fonts.js";
import type { Engine, EngineDocument, EngineFont } from "./engine.js";

type FontClass = new (document: EngineDocument, font: unknown, id: string) => EngineFont;

/** Shaped words kept for each font file before starting afresh; a word takes about a kilobyte. */
const WORDS_KEPT = 8000;

/** Counting the words takes a while, so it is done once in so many letters. */
const COUNTED_EVERY = 16;

const shapedWords = new Map<string, { words: Record<string, unknown>; letters: number }>();
let FontClass: FontClass | undefined;

function wordsOf(path: string): Record<string, unknown> {
  let shaped = shapedWords.get(path);
  const isCounted = shaped !== undefined && ++shaped.letters % COUNTED_EVERY === 0;
  if (!shaped || (isCounted && Object.keys(shaped.words).length > WORDS_KEPT)) {
    shaped = { words: Object.create(null) as Record<string, unknown>, letters: 0 };
    shapedWords.set(path, shaped);
  }
  return shaped.words;
}

/** The class of the font that `make` makes, leaving the document as it was, so that first and later letters are alike. */
function classOf(pdf: EngineDocument, make: () => EngineFont): FontClass {
  const { _fontCount, _fontFamilies } = pdf;
  pdf._fontFamilies = {};
  const made = make().constructor as FontClass;
  pdf._fontFamilies = _fontFamilies;
  pdf._fontCount = _fontCount;
  return made;
}

/** Scripts whose letters join, move or carry points, and need the typeface's own composition. */
const COMPOSES =
  /[^\p{Script=Latin}\p{Script=Greek}\p{Script=Cyrillic}\p{Script=Armenian}\p{Script=Georgian}\p{Script=Common}\p{Script=Inherited}]|\p{Extended_Pictographic}/u;

const MARK = /\p{M}/u;

/** Features that only marks of their own need: reading their tables from the font file takes as long as shaping a whole letter. */
const WITHOUT_MARKS = { ccmp: false, mark: false, mkmk: false };

/** Decomposing a letter such as U+1ECB into base and dot would leave the dot without a character in the PDF's text. */
function featuresFor(text: string): object | undefined {
  if (COMPOSES.test(text)) return undefined;
  return MARK.test(text) ? { ccmp: false } : WITHOUT_MARKS;
}

function makeFont(Class: FontClass, pdf: EngineDocument, path: string, id: string): EngineFont {
  const font = new Class(pdf, openFont(path), id);
  font.layoutCache = wordsOf(path);
  const { layoutRun } = font;
  font.layoutRun = (text, features) => layoutRun.call(font, text, features ?? featuresFor(text));
  return font;
}

/** Makes the engine take fonts from the cache. */
export function patchFonts({ PDFDocument }: Engine): void {
  const { provideFont } = PDFDocument.prototype;
  PDFDocument.prototype.provideFont = function (family, bold, italics) {
    const path = this.getFontFile(family, bold, italics);
    if (path === null) return provideFont.call(this, family, bold, italics);
    this.fontCache[family] ??= {};
    const cuts = this.fontCache[family];
    const cut = this.getFontType(bold, italics);
    // Typefaces may use one file for two cuts.
    let font = this._fontFamilies[path];
    if (!font) {
      // The class is private to the engine, so it is taken from the first font the engine makes itself.
      FontClass ??= classOf(this, () => provideFont.call(this, family, bold, italics));
      this._fontCount += 1;
      font = makeFont(FontClass, this, path, `F${this._fontCount}`);
      // Drawings ask for fonts by path.
      this._fontFamilies[path] = font;
    }
    cuts[cut] = font;
    return font;
  };
}
