/**
 * The parts of pdfmake that we use, by name. The build bundles pdfmake and pdfkit into this file, so that what is patched here is
 * never what a program beside us uses, and every installation runs the versions that were tested.
 */
import DocMeasure from "pdfmake/js/DocMeasure.js";
import DocPreprocessor from "pdfmake/js/DocPreprocessor.js";
import LayoutBuilder from "pdfmake/js/LayoutBuilder.js";
import Line from "pdfmake/js/Line.js";
import PDFDocument from "pdfmake/js/PDFDocument.js";
import Printer from "pdfmake/js/Printer.js";
import Renderer from "pdfmake/js/Renderer.js";
import SVGMeasure from "pdfmake/js/SVGMeasure.js";
import TableProcessor from "pdfmake/js/TableProcessor.js";
import TextBreaker from "pdfmake/js/TextBreaker.js";
import TextInlines from "pdfmake/js/TextInlines.js";
import type { Engine } from "./engine.js";

/** Some loaders hand over a module of this kind, others what it exports by default. */
function classOf(module: { readonly default: unknown }): unknown {
  return module.default ?? module;
}

export const ENGINE = {
  DocMeasure: classOf(DocMeasure),
  DocPreprocessor: classOf(DocPreprocessor),
  LayoutBuilder: classOf(LayoutBuilder),
  Line: classOf(Line),
  PDFDocument: classOf(PDFDocument),
  Printer: classOf(Printer),
  Renderer: classOf(Renderer),
  SVGMeasure: classOf(SVGMeasure),
  TableProcessor: classOf(TableProcessor),
  TextBreaker: classOf(TextBreaker),
  TextInlines: classOf(TextInlines),
} as Engine;
