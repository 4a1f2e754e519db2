/** The words of a PDF page by page, for checking that contestants draw the same. */
import { readPdf, textOf } from "../../src/batch/proof/read-pdf.js";

/** Words of each page in the order they were drawn. Throws when the bytes are no PDF. */
export async function wordsByPage(bytes: Uint8Array): Promise<string[][]> {
  const pages = await readPdf(bytes);
  if (!pages) throw new Error("a contestant's PDF cannot be read");
  return pages.map((page) => textOf(page.runs).split(/\s+/).filter(Boolean));
}
