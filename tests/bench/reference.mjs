/**
 * The unit of the gate, as a process of its own: stock pdfkit sets pages of plain words in our typefaces. It starts, compiles,
 * parses fonts, shapes words, collects and deflates as the command does, and changes only with Node, pdfkit or the typefaces.
 */
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import PDFDocument from "pdfkit";

const PAGES = 30;
const LINES = 45;
const WORDS = 12;
const typefaces = fileURLToPath(new URL("../../dist/typefaces/", import.meta.url));
const CUTS = ["NotoSans-Regular.ttf", "NotoSans-SemiBold.ttf"].map((name) => join(typefaces, name));

const pdf = new PDFDocument({ autoFirstPage: false, margin: 50 });
pdf.resume();
for (let page = 0; page < PAGES; page += 1) {
  pdf.addPage();
  for (let line = 0; line < LINES; line += 1) {
    const words = Array.from(
      { length: WORDS },
      (_, word) => `w${(page * 7 + line * 13 + word * 29) % 997}rd`,
    );
    pdf
      .font(CUTS[line % 2])
      .fontSize(9)
      .text(words.join(" "), { lineBreak: false });
    pdf.moveDown(0.2);
  }
}
pdf.end();
