/**
 * Measures words in place of the engine, which looks up twenty styles for each word, and finds break points and widths again in
 * each letter and each pass. Lines come out the same.
 */

import type { Tag } from "../set/structure.js";
import { BODY_FACE } from "../type/fonts.js";
import type { Engine, EngineDocument, EngineFont, EngineStyles, Inline } from "./engine.js";

/** Widths in thousandths of the type size, by word; kept as long as the font file's shaped words are. */
const widths = new WeakMap<object, Map<string, number>>();

function widthOf(text: string, font: EngineFont, size: number): number {
  if (text === "") return 0;
  let known = widths.get(font.layoutCache);
  if (!known) {
    known = new Map();
    widths.set(font.layoutCache, known);
  }
  let width = known.get(text);
  if (width === undefined) {
    width = font.widthOfString(text, 1000);
    known.set(text, width);
  }
  return (width * size) / 1000;
}

/** A figure space is as good as a digit: it stays where it stands. */
const SPACE = /[^\S\u2007]/;

function spaceAtStart(text: string): string {
  return SPACE.test(text.charAt(0)) ? (/^[^\S\u2007]+/.exec(text)?.[0] ?? "") : "";
}

function spaceAtEnd(text: string): string {
  return SPACE.test(text.charAt(text.length - 1)) ? (/[^\S\u2007]+$/.exec(text)?.[0] ?? "") : "";
}

/** A word with the space after it, or a line's end. */
interface Piece {
  readonly text: string;
  readonly lineEnd?: boolean;
}

/** Texts whose break points are remembered; much of a letter is the same in the next. */
const TEXTS_KEPT = 4000;

/** What says nothing about style. */
const NO_STYLES: EngineStyles = { auto: (_item, look) => look(), getProperty: () => undefined };

/** Scripts without spaces between words, whose breaks only a dictionary knows. */
const UNSPACED = /[\p{Script=Thai}\p{Script=Lao}\p{Script=Khmer}\p{Script=Myanmar}]/u;
const dictionary = new Intl.Segmenter("th", { granularity: "word" });

function wordsOf(piece: Piece): readonly Piece[] {
  if (!UNSPACED.test(piece.text)) return [piece];
  const words: Piece[] = [];
  for (const { segment } of dictionary.segment(piece.text)) {
    const last = words[words.length - 1];
    // Spaces and signs stay with the word before them.
    if (last && !/\p{L}/u.test(segment)) words[words.length - 1] = { text: last.text + segment };
    else words.push({ text: segment });
  }
  return words.map((word, i) => (i === words.length - 1 ? { ...piece, ...word } : word));
}

/** Where lines may break, by the engine. */
function breaker({ TextBreaker }: Engine): (text: string) => readonly Piece[] {
  const found = new Map<string, readonly Piece[]>();
  const inner = new TextBreaker();
  return (text) => {
    let pieces = found.get(text);
    if (!pieces) {
      pieces = inner.getBreaks([text], NO_STYLES).flatMap(wordsOf);
      if (found.size >= TEXTS_KEPT) found.clear();
      found.set(text, pieces);
    }
    return pieces;
  };
}

interface Run {
  readonly text: string;
  readonly font?: string;
  readonly bold?: boolean;
  readonly italics?: boolean;
  readonly fontSize?: number;
  readonly lineHeight?: number;
  readonly color?: string;
  readonly alignment?: string;
  readonly decoration?: string;
  readonly link?: string;
  readonly noWrap?: boolean;
  readonly isBound?: boolean;
  readonly inlineTag?: Tag;
}

/** What a text's words inherit, the same for all of them. */
function inheritedBy(styles: EngineStyles): Omit<Run, "text"> {
  const read = <T>(name: string) => (styles.getProperty(name) ?? undefined) as T | undefined;
  return {
    font: read<string>("font") ?? BODY_FACE,
    bold: read<boolean>("bold") ?? false,
    italics: read<boolean>("italics") ?? false,
    fontSize: read<number>("fontSize") ?? 12,
    lineHeight: read<number>("lineHeight") ?? 1,
    color: read<string>("color") ?? "black",
    alignment: read<string>("alignment") ?? "left",
  };
}

function inlineOf(piece: Piece, run: Run, usual: Omit<Run, "text">, font: EngineFont): Inline {
  const { text } = piece;
  const fontSize = run.fontSize ?? usual.fontSize ?? 12;
  return {
    text,
    font,
    fontSize,
    color: run.color ?? usual.color ?? "black",
    alignment: run.alignment ?? usual.alignment ?? "left",
    x: 0,
    width: widthOf(text, font, fontSize),
    height: font.lineHeight(fontSize) * (run.lineHeight ?? usual.lineHeight ?? 1),
    leadingCut: widthOf(spaceAtStart(text), font, fontSize),
    trailingCut: widthOf(spaceAtEnd(text), font, fontSize),
    noWrap: run.noWrap,
    isBound: run.isBound,
    noNewLine: false,
    lineEnd: piece.lineEnd === true,
    decoration: run.decoration,
    link: run.link,
    inlineTag: run.inlineTag,
  };
}

/** Least and greatest width of words, without the spaces at the ends of lines. */
function extent(words: readonly Inline[]): { minWidth: number; maxWidth: number } {
  let [minWidth, maxWidth, line, lineCut] = [0, 0, 0, 0];
  for (const { width, leadingCut, trailingCut, lineEnd } of words) {
    minWidth = Math.max(minWidth, width - leadingCut - trailingCut);
    if (line === 0) lineCut = leadingCut;
    line += width;
    maxWidth = Math.max(maxWidth, line - lineCut - trailingCut);
    if (lineEnd) line = 0;
  }
  return { minWidth, maxWidth };
}

interface Measured {
  readonly items: Inline[];
  readonly minWidth: number;
  readonly maxWidth: number;
}

interface Kept extends Measured {
  readonly texts: readonly string[];
  readonly usual: Omit<Run, "text">;
  readonly document: EngineDocument;
}

/** Words of a text, measured once for all passes over the pages; where they stand is written anew in each, and only the last is drawn. */
const measured = new WeakMap<object, Kept>();

function isSame(a: Omit<Run, "text">, b: Omit<Run, "text">): boolean {
  const { font, bold, italics, fontSize, lineHeight, color, alignment } = a;
  return (
    font === b.font &&
    bold === b.bold &&
    italics === b.italics &&
    fontSize === b.fontSize &&
    lineHeight === b.lineHeight &&
    color === b.color &&
    alignment === b.alignment
  );
}

/** The engine takes words out of the list it is given. */
function listed({ items, minWidth, maxWidth }: Measured): Measured {
  return { items: [...items], minWidth, maxWidth };
}

/** False when the engine cut a word in two. */
function isWhole({ items, texts }: Kept): boolean {
  return items.every((item, i) => item.text === texts[i]);
}

/** Makes the engine measure words this way. */
export function patchWords(engine: Engine): void {
  const piecesOf = breaker(engine);
  const isOneWord = (text: string) => piecesOf(text).length === 1;
  engine.TextInlines.prototype.buildInlines = function (text, styles) {
    const usual = inheritedBy(styles);
    const known = typeof text === "object" && text !== null ? measured.get(text) : undefined;
    if (known && isWhole(known) && isSame(known.usual, usual) && known.document === this.pdfDocument)
      return listed(known);
    const items: Inline[] = [];
    // The last word of the run before, which may go on in the next.
    let open = "";
    for (const given of Array.isArray(text) ? text : [text]) {
      const run: Run = typeof given === "object" ? given : { text: String(given) };
      const { font = usual.font ?? BODY_FACE, bold = usual.bold, italics = usual.italics } = run;
      const face = this.pdfDocument.provideFont(font, bold === true, italics === true);
      const pieces = run.noWrap ? [{ text: run.text }] : piecesOf(run.text);
      const first = run.noWrap ? piecesOf(run.text)[0] : pieces[0];
      const before = items[items.length - 1];
      if (before && open !== "" && first && isOneWord(open + first.text)) before.noNewLine = true;
      for (const piece of pieces) items.push(inlineOf(piece, run, usual, face));
      const last = run.noWrap ? piecesOf(run.text).at(-1) : pieces[pieces.length - 1];
      open = last && !pieces[pieces.length - 1]?.lineEnd ? last.text : "";
    }
    const made = { items, ...extent(items) };
    if (typeof text !== "object" || text === null) return made;
    const texts = items.map((item) => item.text);
    measured.set(text, { ...made, texts, usual, document: this.pdfDocument });
    return listed(made);
  };
}
