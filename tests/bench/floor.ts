/** The least a page can cost: the words of a letter drawn by hand, line by line, with fonts that are already parsed. */

import { loadEngine } from "../../src/page/engine.js";
import { amendForFonts } from "../../src/page/font-cache.js";
import { TYPEFACES } from "../../src/page/fonts.js";

interface BareDocument {
  _font: unknown;
  provideFont(family: string, bold: boolean, italics: boolean): unknown;
  addPage(): unknown;
  fontSize(size: number): unknown;
  text(words: string, options: { width: number }): unknown;
  on(event: "data", take: (chunk: Uint8Array) => void): unknown;
  on(event: "end", done: () => void): unknown;
  end(): void;
}

type BareDocumentClass = new (
  fonts: object,
  images: object,
  patterns: object,
  attachments: object,
  options: object,
) => BareDocument;

/** Draws `text` on as many A4 pages as it takes: no layout but line ends, no drawings, no tags. Gives the bytes' number. */
export function drawBare(text: string): Promise<number> {
  const { PDFDocument } = loadEngine(amendForFonts);
  const Bare = PDFDocument as unknown as BareDocumentClass;
  const pdf = new Bare(TYPEFACES, {}, {}, {}, { size: "A4", margin: 57, autoFirstPage: false, font: null });
  return new Promise((resolve) => {
    let bytes = 0;
    pdf.on("data", (chunk) => {
      bytes += chunk.length;
    });
    pdf.on("end", () => resolve(bytes));
    pdf._font = pdf.provideFont("Noto Sans", false, false);
    pdf.fontSize(9.8);
    pdf.addPage();
    for (const line of text.split("\n")) pdf.text(line === "" ? " " : line, { width: 480 });
    pdf.end();
  });
}
