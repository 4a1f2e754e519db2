/**
 * Measures words and fills lines in place of the engine, which looks up twenty styles for each word and copies what is left
 * of a paragraph for each word it sets. Lines come out the same.
 */
import type { Engine, EngineFont, Inheriting, Inline, Line } from "./engine.js";
import type { PdfNode } from "./page-content.js";

/** What a text's words inherit is the same for all of them. Holds for content without named styles, as ours is. */
class Inherited implements Inheriting {
  private readonly known = new Map<string, unknown>();

  constructor(private readonly styles: Inheriting) {}

  auto(_item: unknown, look: () => void): void {
    look();
  }

  getProperty(name: string): unknown {
    let value = this.known.get(name);
    if (value === undefined && !this.known.has(name)) {
      value = this.styles.getProperty(name);
      this.known.set(name, value);
    }
    return value;
  }
}

function lookUpStylesOnce({ TextInlines, StyleContextStack }: Engine): void {
  const { buildInlines } = TextInlines.prototype;
  TextInlines.prototype.buildInlines = function (text, styles) {
    return buildInlines.call(this, text, new Inherited(styles));
  };
  StyleContextStack.prototype.getProperty = function (name) {
    const { styleOverrides } = this;
    for (let i = styleOverrides.length - 1; i >= 0; i -= 1) {
      const item = styleOverrides[i];
      const value = typeof item === "object" ? item[name] : undefined;
      if (value !== undefined && value !== null) return value;
    }
    return this.defaultStyle[name];
  };
  const { getStyleProperty } = StyleContextStack;
  StyleContextStack.getStyleProperty = (item, styles, name, otherwise) => {
    if (!(styles instanceof Inherited)) return getStyleProperty(item, styles, name, otherwise);
    return item[name] ?? styles.getProperty(name) ?? otherwise;
  };
}

/** Widths in thousandths of the type size, by word; kept as long as the font file's shaped words are. */
const widths = new WeakMap<object, Map<string, number>>();

function widthOf(text: string, font: EngineFont, size: number): number {
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

/** The styles that our content uses; the engine has ten more. */
const STYLES = ["alignment", "fontSize", "color", "decoration", "link", "noWrap"] as const;

function measureWords({ TextInlines }: Engine): void {
  TextInlines.prototype.measure = function (words, styles) {
    const inherited = (name: string) => styles.getProperty(name) ?? undefined;
    for (const word of words) {
      for (const name of STYLES) word[name] ??= inherited(name) as never;
      word.alignment ??= "left";
      word.color ??= "black";
      const face = (word.font ?? inherited("font")) as string;
      const font = this.pdfDocument.provideFont(
        face,
        Boolean(word.bold ?? inherited("bold")),
        Boolean(word.italics ?? inherited("italics")),
      );
      const { text, fontSize } = word;
      const lineHeight = (word.lineHeight ?? inherited("lineHeight") ?? 1) as number;
      word.font = font;
      word.width = widthOf(text, font, fontSize);
      word.height = font.lineHeight(fontSize) * lineHeight;
      word.leadingCut = widthOf(spaceAtStart(text), font, fontSize);
      word.trailingCut = widthOf(spaceAtEnd(text), font, fontSize);
    }
    return words as Inline[];
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
  const progress = underWay.get(node) ?? { words: (node._inlines ?? []) as unknown as Inline[], at: 0 };
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

/** Makes the engine measure words and fill lines this way. */
export function amendForWords(engine: Engine): void {
  lookUpStylesOnce(engine);
  measureWords(engine);
  fillLines(engine);
}
