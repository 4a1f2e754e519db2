/**
 * Spares the engine work that it repeats: styles looked up anew for each word, words measured anew for each pass over the
 * pages, drawings parsed anew for each size, pages drawn that are not kept. What comes out is the same to the byte.
 */
import { drawFlat } from "./draw-drawing.js";
import type { Engine, EngineDocument, EngineMeasure, EnginePage, Size } from "./engine.js";
import type { PdfNode } from "./page-content.js";
import { amendForWords, startAgain } from "./quick-words.js";

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
  amendForWords(engine);
  measureOnce(engine);
  readSizesOnly(engine);
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

/** Sizes of the root tag, as `setDrawing` and `setBackdrop` write it. */
function sizeOf(drawing: string): Size {
  const root = /^<svg\b[^<>]*?\swidth="([\d.]+)"[^<>]*?\sheight="([\d.]+)"/.exec(drawing);
  if (!root) throw new TypeError("a drawing does not begin with its width and height");
  return { width: Number(root[1]), height: Number(root[2]) };
}

/** `drawing` with another size in its root tag. */
function resized(drawing: string, { width, height }: Size): string {
  const end = drawing.indexOf(">");
  const root = drawing
    .slice(0, end)
    .replace(/\swidth="[\d.]+"/, ` width="${width}"`)
    .replace(/\sheight="[\d.]+"/, ` height="${height}"`);
  return root + drawing.slice(end);
}

/** The engine parses a drawing whole to learn its size and once more to write another; its root tag says and takes both. */
function readSizesOnly({ SVGMeasure, Renderer }: Engine): void {
  SVGMeasure.prototype.measureSVG = sizeOf;
  SVGMeasure.prototype.writeDimensions = (drawing) => drawing;
  const { renderSVG } = Renderer.prototype;
  Renderer.prototype.renderSVG = function (drawing) {
    if (drawFlat(this.pdfDocument, drawing)) return;
    const { svg, _width: width, _height: height } = drawing;
    renderSVG.call(this, { ...drawing, svg: resized(svg, { width, height }) });
  };
}

/** Only line ends and page breaks change from pass to pass, not what was measured; `processNode` brings margins and sizes up to date. */
function measureOnce({ DocMeasure, LayoutBuilder }: Engine): void {
  const measured = new WeakSet<PdfNode>();
  const measure = function (this: EngineMeasure, node: PdfNode): PdfNode {
    if (measured.has(node)) return node;
    const made = this.measureNode(node);
    measured.add(made);
    return made;
  };
  DocMeasure.prototype.measureDocument = measure;
  DocMeasure.prototype.measureBlock = measure;
  const { processNode } = LayoutBuilder.prototype;
  LayoutBuilder.prototype.processNode = function (node, ...rest) {
    startAgain(node);
    if (node.margin) node._margin = node.margin;
    if (node.svg !== undefined && node.fit) [node._width, node._height] = node.fit;
    processNode.call(this, node, ...rest);
  };
}
