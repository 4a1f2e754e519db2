/** Every member of pdfmake and pdfkit that is replaced, called or read. A new version of either that lacks one fails here first. */
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { expect, test } from "vitest";
import type { EngineDocument } from "../../../src/page/pdfmake/engine.js";
import { loadEngine } from "../../../src/page/pdfmake/print.js";
import { ENGINE } from "../../../src/page/pdfmake/private.js";
import { TYPEFACES } from "../../../src/page/type/fonts.js";
import { replaced } from "./engine-members.js";

const require = createRequire(import.meta.url);

test.each([
  ["pdfmake", "0.3.11"],
  ["pdfkit", "0.19.1"],
])("%s is the version that is patched", (name, version) => {
  const pinned = JSON.parse(readFileSync("package.json", "utf8")).devDependencies[name];
  const installed = JSON.parse(readFileSync(require.resolve(`${name}/package.json`), "utf8")).version;
  expect([pinned, installed]).toEqual([version, version]);
});

/** Replaced methods, by class. */
const REPLACED = [
  "DocMeasure.buildOrderedMarker",
  "DocMeasure.buildUnorderedMarker",
  "DocMeasure.measureNode",
  "DocPreprocessor.preprocessText",
  "LayoutBuilder.addHeadersAndFooters",
  "LayoutBuilder.buildNextLine",
  "LayoutBuilder.layoutDocument",
  "LayoutBuilder.processNode",
  "PDFDocument._addInfo",
  "PDFDocument.provideFont",
  "Renderer.renderImage",
  "Renderer.renderLine",
  "Renderer.renderPages",
  "Renderer.renderSVG",
  "Renderer.renderVector",
  "SVGMeasure.measureSVG",
  "SVGMeasure.writeDimensions",
  "TableProcessor.beginRow",
  "TextInlines.buildInlines",
];

test("the patches replace these methods of the engine and no other", async () => {
  const inherited = ENGINE.PDFDocument.prototype._addInfo;
  expect(typeof inherited).toBe("function");
  await loadEngine();
  expect(replaced().sort()).toEqual(REPLACED);
});

/** Methods that are called, by class. */
const CALLED: Record<string, readonly string[]> = {
  Line: ["addInline", "getAvailableWidth", "getHeight", "getAscenderHeight", "getWidth", "clone"],
  PDFDocument: [
    "addContent",
    "appendXML",
    "createStructParentTreeNextKey",
    "end",
    "font",
    "getFontFile",
    "getFontType",
    "getStructParentTree",
    "getStructTreeRoot",
    "link",
    "on",
    "ref",
    "_convertRect",
  ],
  Printer: ["createPdfKitDocument"],
  TextBreaker: ["getBreaks"],
};

test.each(Object.entries(CALLED))("%s has every method that is called", (name, methods) => {
  const { prototype } = (ENGINE as unknown as Record<string, { prototype: object }>)[name] ?? {};
  for (const method of methods)
    expect(typeof (prototype as Record<string, unknown>)[method], `${name}.${method}`).toBe("function");
});

test("a document has every field that is read or written, and its fonts every member", async () => {
  const { Printer } = await loadEngine();
  const faces = Object.fromEntries(Object.entries(TYPEFACES).map(([name, cuts]) => [name, { ...cuts }]));
  const urls = { resolve: () => undefined, resolved: () => Promise.resolve() };
  const printer = new Printer(faces, null, urls, () => true);
  const document = (await printer.createPdfKitDocument(
    { content: { stack: [{ text: "words" }] }, defaultStyle: { font: "Noto Sans" }, tagged: true },
    {},
  )) as EngineDocument & { addPage(options: object): void };
  document.addPage({});
  for (const field of ["info", "fonts", "fontCache", "_fontFamilies", "page", "outline", "_root"] as const)
    expect(typeof document[field], field).toBe("object");
  expect(typeof document._fontCount).toBe("number");
  expect(Array.isArray(document._convertRect(0, 0, 1, 1))).toBe(true);
  for (const field of ["dictionary", "annotations", "fonts"] as const)
    expect(typeof document.page[field], field).toBe("object");
  expect(typeof document.outline.addItem).toBe("function");
  expect(document.page.dictionary.data.MediaBox).toHaveLength(4);
  expect(typeof document.page.structParentTreeKey).toBe("number");
  expect(document.page.dictionary.data.StructParents).toBe(document.page.structParentTreeKey);
  const font = document.provideFont("Noto Sans", true, false);
  for (const method of ["ref", "encode", "widthOfString", "lineHeight", "layoutRun"] as const)
    expect(typeof font[method], method).toBe("function");
  expect([typeof font.id, typeof font.ascender, typeof font.layoutCache]).toEqual([
    "string",
    "number",
    "object",
  ]);
  const [glyphs, positions] = font.encode("dot");
  expect([glyphs.length, positions.length]).toEqual([3, 3]);
  expect(Object.keys(positions[0] ?? {})).toEqual(
    expect.arrayContaining(["xAdvance", "yAdvance", "xOffset", "yOffset", "advanceWidth"]),
  );
});
