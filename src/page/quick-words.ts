/**
 * Measures words and fills lines in place of the engine, which looks up twenty styles for each word and copies what is left
 * of a paragraph for each word it sets. Lines come out the same.
 */
import type { Engine, EngineFont, Inheriting, Inline, Line } from "./engine.js";
import { BODY_FACE } from "./fonts.js";
import type { PdfNode } from "./page-content.js";
import type { Tag } from "./structure.js";

function lookUpStylesQuickly({ StyleContextStack }: Engine): void {
  // Holds for content without named styles, as ours is.
  StyleContextStack.prototype.getProperty = function (name) {
    const { styleOverrides } = this;
    for (let i = styleOverrides.length - 1; i >= 0; i -= 1) {
      const item = styleOverrides[i];
      const value = typeof item === "object" ? item[name] : undefined;
      if (value !== undefined && value !== null) return value;
    }
    return this.defaultStyle[name];
  };
}

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

const SPACE = /\s/;

function spaceAtStart(text: string): string {
  return SPACE.test(text.charAt(0)) ? (/^\s+/.exec(text)?.[0] ?? "") : "";
}

function spaceAtEnd(text: string): string {
  return SPACE.test(text.charAt(text.length - 1)) ? (/\s+$/.exec(text)?.[0] ?? "") : "";
}

/** A word with the space after it, or a line's end. */
interface Piece {
  readonly text: string;
  readonly lineEnd?: boolean;
}

/** Texts whose break points are remembered; much of a letter is the same in the next. */
const TEXTS_KEPT = 4000;

/** What says nothing about style. */
const NO_STYLES: Inheriting = { auto: (_item, look) => look(), getProperty: () => undefined };

/** Where lines may break, by the engine. */
function breaker({ TextBreaker }: Engine): (text: string) => readonly Piece[] {
  const found = new Map<string, readonly Piece[]>();
  const inner = new TextBreaker();
  return (text) => {
    let pieces = found.get(text);
    if (!pieces) {
      pieces = inner.getBreaks([text], NO_STYLES);
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
function inheritedBy(styles: Inheriting): Omit<Run, "text"> {
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

function measureWords(engine: Engine): void {
  const piecesOf = breaker(engine);
  const isOneWord = (text: string) => piecesOf(text).length === 1;
  engine.TextInlines.prototype.buildInlines = function (text, styles) {
    const usual = inheritedBy(styles);
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
    return { items, ...extent(items) };
  };
}

/** How many signs of `inline` go into `room` points; at least one. */
function signsThatFit({ text, font, fontSize }: Inline, room: number): number {
  let most = 1;
  for (let low = 1, high = text.length; low <= high; ) {
    const middle = Math.floor((low + high) / 2);
    if (font.widthOfString(text.slice(0, middle), fontSize) <= room) {
      most = middle;
      low = middle + 1;
    } else high = middle - 1;
  }
  return most;
}

function part(inline: Inline, text: string): Inline {
  return { ...inline, text, width: inline.font.widthOfString(text, inline.fontSize) };
}

/** Whether the word at `at`, with those bound to it, goes into the line. */
function fits(line: Line, words: readonly Inline[], at: number): boolean {
  if (line.inlines.length === 0) return true;
  if (line.newLineForced) return false;
  let { width = 0, trailingCut = 0 } = words[at] ?? {};
  for (let i = at; words[i]?.noNewLine && i + 1 < words.length; i += 1) {
    width += words[i + 1]?.width ?? 0;
    trailingCut += words[i + 1]?.trailingCut ?? 0;
  }
  return line.inlineWidths + width - line.leadingCut - trailingCut <= line.maxWidth;
}

/** Words of a text and how many of them are set. */
interface Progress {
  words: Inline[];
  at: number;
}

const underWay = new WeakMap<PdfNode, Progress>();

/** The text's words are to be set from the first again. */
export function startAgain(node: PdfNode): void {
  underWay.delete(node);
}

/** Moves as many words as fit from `node` to `line`; false when there are none left. */
function fill(line: Line, node: PdfNode): boolean {
  const progress = underWay.get(node) ?? { words: node._inlines ?? [], at: 0 };
  underWay.set(node, progress);
  if (progress.at >= progress.words.length) return false;
  let isBoundToLast = false;
  while (progress.at < progress.words.length) {
    if (!isBoundToLast && !fits(line, progress.words, progress.at)) break;
    let word = progress.words[progress.at] as Inline;
    const room = line.getAvailableWidth();
    let isCut = false;
    if (!word.noWrap && word.text.length > 1 && word.width > room) {
      const signs = signsThatFit(word, room);
      isCut = signs < word.text.length;
      if (isCut) {
        // What was measured serves later passes too, so only a copy is cut.
        const rest = part(word, word.text.slice(signs));
        word = part(word, word.text.slice(0, signs));
        progress.words = [
          ...progress.words.slice(0, progress.at),
          rest,
          ...progress.words.slice(progress.at + 1),
        ];
      }
    }
    if (!isCut) progress.at += 1;
    line.addInline(word);
    isBoundToLast = word.noNewLine === true && !isCut;
  }
  line.lastLineInParagraph = progress.at >= progress.words.length;
  return true;
}

function fillLines({ LayoutBuilder, Line }: Engine): void {
  LayoutBuilder.prototype.buildNextLine = function (node) {
    const line = new Line(this.writer.context().availableWidth);
    return fill(line, node) ? line : null;
  };
}

/** Lines are asked for their height again and again. */
function addUpLines({ Line }: Engine): void {
  Line.prototype.getHeight = function () {
    let most = 0;
    for (const { height } of this.inlines) if (height > most) most = height;
    return most;
  };
  Line.prototype.getAscenderHeight = function () {
    let most = 0;
    for (const { font, fontSize } of this.inlines) most = Math.max(most, (font.ascender / 1000) * fontSize);
    return most;
  };
}

/** Makes the engine measure words and fill lines this way. */
export function amendForWords(engine: Engine): void {
  lookUpStylesQuickly(engine);
  measureWords(engine);
  fillLines(engine);
  addUpLines(engine);
}
