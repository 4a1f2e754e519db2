/**
 * Measures words in place of the engine, which looks up twenty styles for each word, and finds break points and widths again in
 * each letter and each pass. Lines come out the same.
 */

import { once } from "../../base/once.js";
import type { Tag } from "../set/structure.js";
import { BODY_FACE } from "../type/fonts.js";
import type { Engine, EngineDocument, EngineFont, EngineNode, EngineStyles, Inline } from "./engine.js";

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
const dictionary = once(() => new Intl.Segmenter("th", { granularity: "word" }));

function wordsOf(piece: Piece): readonly Piece[] {
  if (!UNSPACED.test(piece.text)) return [piece];
  const words: Piece[] = [];
  for (const { segment } of dictionary().segment(piece.text)) {
    const last = words[words.length - 1];
    // Spaces and signs stay with the word before them.
    if (last && !/\p{L}/u.test(segment)) words[words.length - 1] = { text: last.text + segment };
    else words.push({ text: segment });
  }
  return words.map((word, i) => (i === words.length - 1 ? { ...piece, ...word } : word));
}

/** Where lines may break, by the engine. */
function breaker(TextBreaker: Engine["TextBreaker"]): (text: string) => readonly Piece[] {
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

/** A piece with its widths in thousandths of the type size. */
interface Shaped extends Piece {
  readonly width: number;
  /** Of the spaces at its ends. */
  readonly leading: number;
  readonly trailing: number;
}

/** By font file, then by text; kept as long as the file's shaped words are. */
const shaped = new WeakMap<object, Map<string, readonly Shaped[]>>();

/** `pieces` of `text` in this font; `key` says how the text was cut. */
function shapedPieces(key: string, pieces: readonly Piece[], font: EngineFont): readonly Shaped[] {
  let known = shaped.get(font.layoutCache);
  if (!known) {
    known = new Map();
    shaped.set(font.layoutCache, known);
  }
  let found = known.get(key);
  if (!found) {
    const widthOf = (text: string) => (text === "" ? 0 : font.widthOfString(text, 1000));
    found = pieces.map(({ text, lineEnd }) => ({
      text,
      ...(lineEnd ? { lineEnd } : {}),
      width: widthOf(text),
      leading: widthOf(spaceAtStart(text)),
      trailing: widthOf(spaceAtEnd(text)),
    }));
    if (known.size >= TEXTS_KEPT) known.clear();
    known.set(key, found);
  }
  return found;
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

function inlineOf(piece: Shaped, run: Run, usual: Omit<Run, "text">, font: EngineFont): Inline {
  const { text } = piece;
  const fontSize = run.fontSize ?? usual.fontSize ?? 12;
  return {
    text,
    font,
    fontSize,
    color: run.color ?? usual.color ?? "black",
    alignment: run.alignment ?? usual.alignment ?? "left",
    x: 0,
    width: (piece.width * fontSize) / 1000,
    height: font.lineHeight(fontSize) * (run.lineHeight ?? usual.lineHeight ?? 1),
    leadingCut: (piece.leading * fontSize) / 1000,
    trailingCut: (piece.trailing * fontSize) / 1000,
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
  readonly inlines: readonly Inline[];
  readonly minWidth: number | undefined;
  readonly maxWidth: number | undefined;
  readonly document: EngineDocument;
}

/**
 * Words of a text, measured once for all passes over the pages; where they stand is written anew in each, and only the last is drawn.
 * A text is of one node, which has the same margins at its sides and inherits the same in every pass.
 */
const measured = new WeakMap<object, Measured>();

/** The engine has cut a word of this text in two: it has to be measured anew. */
export function forgetMeasured({ text }: EngineNode): void {
  if (typeof text === "object") measured.delete(text);
}

/** Makes the engine measure words this way. */
export function patchWords({ TextInlines, TextBreaker, DocMeasure, DocPreprocessor }: Engine): void {
  const piecesOf = breaker(TextBreaker);
  const isOneWord = (text: string) => piecesOf(text).length === 1;
  TextInlines.prototype.buildInlines = function (text, styles) {
    const usual = inheritedBy(styles);
    const items: Inline[] = [];
    // The last word of the run before, which may go on in the next.
    let open = "";
    for (const given of Array.isArray(text) ? text : [text]) {
      const run: Run = typeof given === "object" ? given : { text: String(given) };
      const { font = usual.font ?? BODY_FACE, bold = usual.bold, italics = usual.italics } = run;
      const face = this.pdfDocument.provideFont(font, bold === true, italics === true);
      const broken = piecesOf(run.text);
      const pieces = run.noWrap
        ? shapedPieces(`\0${run.text}`, [{ text: run.text }], face)
        : shapedPieces(run.text, broken, face);
      const first = broken[0];
      const before = items[items.length - 1];
      if (before && open !== "" && first && isOneWord(open + first.text)) before.noNewLine = true;
      for (const piece of pieces) items.push(inlineOf(piece, run, usual, face));
      const last = broken[broken.length - 1];
      open = last && !pieces[pieces.length - 1]?.lineEnd ? last.text : "";
    }
    return { items, ...extent(items) };
  };

  const { measureNode } = DocMeasure.prototype;
  DocMeasure.prototype.measureNode = function (node) {
    const { text } = node;
    if (typeof text !== "object") return measureNode.call(this, node);
    const document = this.textInlines.pdfDocument;
    const known = measured.get(text);
    if (known?.document !== document) {
      const made = measureNode.call(this, node);
      const { _inlines: inlines = [], _minWidth: minWidth, _maxWidth: maxWidth } = made;
      measured.set(text, { inlines: [...inlines], minWidth, maxWidth, document });
      return made;
    }
    node._margin = node.margin ?? null;
    // The engine takes words out of the list it is given.
    node._inlines = [...known.inlines];
    node._minWidth = known.minWidth;
    node._maxWidth = known.maxWidth;
    return node;
  };

  // What the engine prepares on a text is the same for each of its copies.
  const prepared = new WeakSet<object>();
  const { preprocessText } = DocPreprocessor.prototype;
  DocPreprocessor.prototype.preprocessText = function (node) {
    const { text } = node;
    if (typeof text !== "object") return preprocessText.call(this, node);
    if (prepared.has(text)) return node;
    prepared.add(text);
    return preprocessText.call(this, node);
  };
}
