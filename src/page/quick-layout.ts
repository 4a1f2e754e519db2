/**
 * Spares the engine work that it repeats: styles looked up anew for each word, words measured anew for each pass over the
 * pages, drawings parsed anew for each size, pages drawn that are not kept. What comes out is the same to the byte.
 */
import { drawFlat, isFlat } from "./draw-drawing.js";
import type { Engine, EngineDocument, EngineMeasure, EnginePage, Size } from "./engine.js";
import { rounded } from "./operators.js";
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
  writeFilesAtOnce(engine);
  amendForWords(engine);
  measureOnce(engine);
  drawAgain(engine);
}

function drawWhenAsked({ Renderer }: Engine): void {
  const { renderPages } = Renderer.prototype;
  Renderer.prototype.renderPages = function (pages) {
    waiting.set(this.pdfDocument, () => renderPages.call(this, pages));
  };
}

const kept = new WeakMap<EnginePage, string[]>();

/** What was drawn on a page so far. */
function operatorsOf(page: EnginePage): string[] {
  let operators = kept.get(page);
  if (!operators) {
    operators = [];
    kept.set(page, operators);
  }
  return operators;
}

/** The engine makes bytes of each operator by itself; here a page's operators are kept as text until the page is done. */
function writePagesAtOnce({ PDFDocument }: Engine): void {
  const { flushPages } = PDFDocument.prototype;
  PDFDocument.prototype.addContent = function (operators) {
    operatorsOf(this.page).push(operators);
    return this;
  };
  PDFDocument.prototype.flushPages = function () {
    for (const page of this._pageBuffer) page.write(operatorsOf(page).join("\n"));
    flushPages.call(this);
  };
}

/** A document's bytes so far: what is text stays text until something else comes. */
interface Written {
  readonly chunks: Uint8Array[];
  text: string[];
}

const written = new WeakMap<EngineDocument, Written>();

function closeText(document: Written): void {
  if (document.text.length === 0) return;
  document.chunks.push(Buffer.from(document.text.join(""), "latin1"));
  document.text = [];
}

/** The finished document's bytes. */
export function bytesOf(document: EngineDocument): Uint8Array {
  const all = written.get(document);
  if (!all) return new Uint8Array();
  closeText(all);
  written.delete(document);
  return new Uint8Array(Buffer.concat(all.chunks));
}

/** The engine makes bytes of each line of the file by itself and sends them through a stream. */
function writeFilesAtOnce({ PDFDocument }: Engine): void {
  PDFDocument.prototype._write = function (data) {
    let all = written.get(this);
    if (!all) {
      all = { chunks: [], text: [] };
      written.set(this, all);
    }
    if (data instanceof Uint8Array) {
      closeText(all);
      all.chunks.push(data);
      this._offset += data.length;
    } else {
      all.text.push(data, "\n");
      this._offset += data.length + 1;
    }
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

/** Pictograms and a clinic's logo come again on many letters. */
const DRAWINGS_KEPT = 64;

/** Names in operators, besides colour spaces, are those of one document's fonts, states and pictures. */
const NAME = /\/(?!Device(?:RGB|Gray|CMYK)\b)/;

/** The engine parses a drawing whole to learn its size and again to draw it; here it is drawn the same way as the time before. */
function drawAgain({ SVGMeasure, Renderer }: Engine): void {
  const { measureSVG } = SVGMeasure.prototype;
  const sound = new Set<string>();
  SVGMeasure.prototype.measureSVG = function (drawing) {
    if (!sound.has(drawing)) {
      if (sound.size >= DRAWINGS_KEPT) sound.clear();
      // Throws for what is not well-formed.
      if (!isFlat(drawing)) measureSVG.call(this, drawing);
      sound.add(drawing);
    }
    return sizeOf(drawing);
  };
  SVGMeasure.prototype.writeDimensions = (drawing) => drawing;

  const { renderSVG } = Renderer.prototype;
  const drawn = new Map<string, string>();
  Renderer.prototype.renderSVG = function (placed) {
    const pdf = this.pdfDocument;
    if (drawFlat(pdf, placed)) return;
    const svg = resized(placed.svg, { width: placed._width, height: placed._height });
    let operators = drawn.get(svg);
    if (operators === undefined) {
      const page = operatorsOf(pdf.page);
      const before = page.length;
      renderSVG.call(this, { ...placed, svg, x: 0, y: 0 });
      operators = page.splice(before).join("\n");
      if (drawn.size >= DRAWINGS_KEPT) drawn.clear();
      if (!NAME.test(operators)) drawn.set(svg, operators);
    }
    pdf.addContent(`q\n1 0 0 1 ${rounded(placed.x)} ${rounded(placed.y)} cm\n${operators}\nQ`);
  };
}

/** Only line ends and page breaks change from pass to pass, not what was measured; `processNode` brings margins and sizes up to date. */
function measureOnce({ DocPreprocessor, DocMeasure, LayoutBuilder }: Engine): void {
  const measured = new WeakSet<PdfNode>();
  const measure = function (this: EngineMeasure, node: PdfNode): PdfNode {
    if (measured.has(node)) return node;
    const made = this.measureNode(node);
    measured.add(made);
    return made;
  };
  DocMeasure.prototype.measureDocument = measure;
  DocMeasure.prototype.measureBlock = measure;
  const { preprocessDocument, preprocessBlock } = DocPreprocessor.prototype;
  DocPreprocessor.prototype.preprocessDocument = function (node) {
    return measured.has(node) ? node : preprocessDocument.call(this, node);
  };
  DocPreprocessor.prototype.preprocessBlock = function (node) {
    return measured.has(node) ? node : preprocessBlock.call(this, node);
  };
  const { processNode } = LayoutBuilder.prototype;
  LayoutBuilder.prototype.processNode = function (node, ...rest) {
    startAgain(node);
    if (node.margin) node._margin = node.margin;
    if (node.svg !== undefined && node.fit) [node._width, node._height] = node.fit;
    processNode.call(this, node, ...rest);
  };
}
