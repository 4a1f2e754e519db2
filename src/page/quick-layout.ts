/**
 * Spares the engine work that it repeats: styles looked up anew for each word, words measured anew for each pass over the
 * pages, drawings parsed anew for each size, pages drawn that are not kept. What comes out is the same to the byte.
 */
import type { Engine, EngineDocument, EngineStyles, Inline, Size } from "./engine.js";
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

/** What a text's words inherit is the same for all of them. Holds for content without named styles, as ours is. */
function inherited(styles: Pick<EngineStyles, "getProperty">): Pick<EngineStyles, "auto" | "getProperty"> {
  const known = new Map<string, unknown>();
  return {
    auto: (_item, look) => look(),
    getProperty(name) {
      if (known.has(name)) return known.get(name);
      const value = styles.getProperty(name);
      known.set(name, value);
      return value;
    },
  };
}

function lookUpStylesOnce({ TextInlines, StyleContextStack }: Engine): void {
  const { buildInlines } = TextInlines.prototype;
  TextInlines.prototype.buildInlines = function (text, styles) {
    return buildInlines.call(this, text, inherited(styles));
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

function parseDrawingsOnce({ SVGMeasure }: Engine): void {
  const { measureSVG, writeDimensions } = SVGMeasure.prototype;
  const sizes = new Map<string, Size>();
  const written = new Map<string, string>();
  const keep = <V>(map: Map<string, V>, key: string, value: V): V => {
    if (map.size >= DRAWINGS_KEPT) map.clear();
    map.set(key, value);
    return value;
  };
  SVGMeasure.prototype.measureSVG = function (drawing) {
    const size = sizes.get(drawing) ?? keep(sizes, drawing, measureSVG.call(this, drawing));
    return { ...size };
  };
  SVGMeasure.prototype.writeDimensions = function (drawing, size) {
    const key = `${size.width} ${size.height} ${drawing}`;
    return written.get(key) ?? keep(written, key, writeDimensions.call(this, drawing, size));
  };
}
