/** Draws our own flat diagrams straight; any other drawing, such as a logo, is left to the engine's SVG reader. */
import { isFlat } from "../drawing/flat-drawing.js";
import { drawFlat } from "./draw-drawing.js";
import type { Engine, Size } from "./engine.js";

/** Sizes of the root tag, as `setDrawing` writes it. */
function sizeOf(drawing: string): Size {
  const root = /^<svg\b[^<>]*?\swidth="([\d.]+)"[^<>]*?\sheight="([\d.]+)"/.exec(drawing);
  if (!root) throw new TypeError("a drawing does not begin with its width and height");
  return { width: Number(root[1]), height: Number(root[2]) };
}

/** Makes the engine draw this way. */
export function patchDrawings({ SVGMeasure, Renderer }: Engine): void {
  const { measureSVG, writeDimensions } = SVGMeasure.prototype;
  SVGMeasure.prototype.measureSVG = function (drawing) {
    return isFlat(drawing) ? sizeOf(drawing) : measureSVG.call(this, drawing);
  };
  SVGMeasure.prototype.writeDimensions = function (drawing, size) {
    return isFlat(drawing) ? drawing : writeDimensions.call(this, drawing, size);
  };
  const { renderSVG } = Renderer.prototype;
  Renderer.prototype.renderSVG = function (placed) {
    if (!drawFlat(this.pdfDocument, placed)) renderSVG.call(this, placed);
  };
}
