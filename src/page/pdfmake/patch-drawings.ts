/** Draws our flat diagrams straight, any other drawing by the engine's SVG reader, once: it parses a drawing for its size and again to draw it. */
import { isFlat } from "../drawing/flat-drawing.js";
import { rounded } from "../drawing/operators.js";
import { drawFlat } from "./draw-drawing.js";
import type { Engine, Size } from "./engine.js";
import { operatorsOf } from "./patch-file.js";

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

/** Makes the engine draw this way. */
export function patchDrawings({ SVGMeasure, Renderer }: Engine): void {
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
      if (operators === "") throw new Error("a drawing left no operators");
      if (drawn.size >= DRAWINGS_KEPT) drawn.clear();
      if (!NAME.test(operators)) drawn.set(svg, operators);
    }
    pdf.addContent(`q\n1 0 0 1 ${rounded(placed.x)} ${rounded(placed.y)} cm\n${operators}\nQ`);
  };
}
