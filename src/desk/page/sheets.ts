/** Draws a PDF page by page, as it will be printed. A bundle of its own, fetched only when pages are shown. */
import { GlobalWorkerOptions, getDocument, type PDFPageProxy } from "pdfjs-dist";

GlobalWorkerOptions.workerSrc = "/sheets-worker.js";

/** Lays the pages of `bytes` into `host`, each of this width in pixels; false when `isStale` said so on the way. */
export async function drawPages(
  bytes: Uint8Array,
  host: HTMLElement,
  width: number,
  isStale: () => boolean,
): Promise<boolean> {
  const task = getDocument({ data: bytes, isEvalSupported: false, useSystemFonts: false, verbosity: 0 });
  try {
    const document = await task.promise;
    for (let number = 1; number <= document.numPages; number++) {
      const drawn = await drawPage(await document.getPage(number), number, document.numPages, width);
      if (isStale()) return false;
      const there = host.children[number - 1];
      if (there) there.replaceWith(drawn);
      else host.append(drawn);
    }
    while (host.children.length > document.numPages) host.lastElementChild?.remove();
    return true;
  } finally {
    void task.destroy();
  }
}

async function drawPage(page: PDFPageProxy, number: number, pages: number, width: number): Promise<Element> {
  const plain = page.getViewport({ scale: 1 });
  const sharp = Math.min(3, Math.max(1, devicePixelRatio));
  const viewport = page.getViewport({ scale: (width / plain.width) * sharp });
  const canvas = document.createElement("canvas");
  canvas.width = Math.round(viewport.width);
  canvas.height = Math.round(viewport.height);
  canvas.setAttribute("role", "img");
  canvas.setAttribute("aria-label", `Page ${number} of ${pages}`);
  const [, text] = await Promise.all([page.render({ canvas, viewport }).promise, page.getTextContent()]);
  const figure = document.createElement("figure");
  const words = document.createElement("div");
  words.className = "unseen";
  words.textContent = text.items
    .map((item) => ("str" in item ? `${item.str}${item.hasEOL ? "\n" : ""}` : ""))
    .join("");
  figure.append(canvas, words);
  return figure;
}
