/**
 * Spares the engine work that it repeats: measuring anew for each pass over the pages, parsing drawings for their size, drawing
 * pages that are not kept. Pages look the same.
 */
import { drawFlat, isFlat } from "./draw-drawing.js";
import type { Engine, EngineDocument, EngineMeasure, Size } from "./engine.js";
import { rounded } from "./operators.js";
import type { PdfNode } from "./page-content.js";
import { operatorsOf } from "./quick-file.js";
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
