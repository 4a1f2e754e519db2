/**
 * Spares the engine work that it repeats: styles looked up anew for each word, words measured anew for each pass over the
 * pages, drawings parsed anew for each size, pages drawn that are not kept. What comes out is the same to the byte.
 */
import type { Engine, EngineDocument, EnginePage, Inheriting, Inline, Size } from "./engine.js";
import type { PdfNode } from "./page-content.js";

const waiting = new WeakMap<EngineDocument, () => void>();

/** Draws the pages that were laid out for this document; once. */
export function drawPages(document: EngineDocument): void {
  waiting.get(document)?.();
  waiting.delete(document);
}

/** Makes the engine wait with drawing, and remember what it has measured. */
export function amendForSpeed(engine: Engine): void {
  drawWhenAsked(engine);
  writePagesAtOnce(engine);
  lookUpStylesOnce(engine);
  measureWordsOnce(engine);
  parseDrawingsOnce(engine);
}

function drawWhenAsked({ Renderer }: Engine): void {
  const { renderPages } = Renderer.prototype;
  Renderer.prototype.renderPages = function (pages) {
    waiting.set(this.pdfDocument, () => renderPages.call(this, pages));
  };
}

/** The engine makes bytes of each operator by itself; here a page's operators are kept as text until the page is done. */
function writePagesAtOnce({ PDFDocument }: Engine): void {
  const kept = new WeakMap<EnginePage, string[]>();
  const { flushPages } = PDFDocument.prototype;
  PDFDocument.prototype.addContent = function (operators) {
    const operatorsKept = kept.get(this.page);
    if (operatorsKept) operatorsKept.push(operators);
    else kept.set(this.page, [operators]);
    return this;
  };
  PDFDocument.prototype.flushPages = function () {
    for (const page of this._pageBuffer) page.write((kept.get(page) ?? []).join("\n"));
    flushPages.call(this);
  };
}

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

/** Later passes set the same words again; setting them changes them, so each pass has copies. */
function measureWordsOnce({ DocMeasure }: Engine): void {
  const { measureLeaf } = DocMeasure.prototype;
  const measured = new WeakMap<PdfNode, { readonly text: unknown; readonly items: readonly Inline[] }>();
  DocMeasure.prototype.measureLeaf = function (node) {
    const known = measured.get(node);
    if (known && known.text === node.text) {
      node._inlines = copies(known.items);
      return node;
    }
    const made = measureLeaf.call(this, node);
    const items = (made._inlines ?? []) as unknown as Inline[];
    made._inlines = copies(items);
    measured.set(node, { text: node.text, items });
    return made;
  };
}

function copies(items: readonly Inline[]): NonNullable<PdfNode["_inlines"]> {
  return items.map((item) => ({ ...item })) as unknown as NonNullable<PdfNode["_inlines"]>;
}

/** Drawings remembered before starting afresh: the pictures of a letter and their sizes. */
const DRAWINGS_KEPT = 48;

interface WrittenDrawing {
  /** The root tag as the engine wrote it, and all that follows it. */
  readonly head: string;
  readonly rest: string;
}

/** The root tag with another size, the rest as it was. Undefined for a tag without the two sizes written once each. */
function resized(head: string, size: Size): string | undefined {
  const parts = / width="[^"]*"| height="[^"]*"/g;
  if (head.match(parts)?.length !== 2) return undefined;
  return head.replace(parts, (part) =>
    part.startsWith(" w") ? ` width="${size.width}"` : ` height="${size.height}"`,
  );
}

/** A drawing is parsed to be measured and to be written at its size; after that only its root tag changes. */
function parseDrawingsOnce({ SVGMeasure, LayoutBuilder }: Engine): void {
  const { measureSVG, writeDimensions } = SVGMeasure.prototype;
  const { layoutDocument } = LayoutBuilder.prototype;
  const measured = new Map<string, Size>();
  const written = new Map<string, WrittenDrawing>();
  // Forgotten between letters and not within one, so that a letter never depends on what was remembered.
  LayoutBuilder.prototype.layoutDocument = function (content, ...rest) {
    if (measured.size > DRAWINGS_KEPT) {
      measured.clear();
      written.clear();
    }
    return layoutDocument.call(this, content, ...rest);
  };
  SVGMeasure.prototype.measureSVG = function (drawing) {
    const size = measured.get(drawing) ?? measureSVG.call(this, drawing);
    measured.set(drawing, size);
    return { ...size };
  };
  SVGMeasure.prototype.writeDimensions = function (drawing, size) {
    const known = written.get(drawing);
    const head = known && resized(known.head, size);
    let made: string;
    if (known && head) made = head + known.rest;
    else made = writeDimensions.call(this, drawing, size);
    const end = made.indexOf(">") + 1;
    const parts = { head: made.slice(0, end), rest: made.slice(end) };
    written.set(drawing, parts);
    // The next pass is given what this one wrote.
    written.set(made, parts);
    measured.set(made, { ...size });
    return made;
  };
}
