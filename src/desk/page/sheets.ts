/** Draws a PDF page by page, as it will be printed. A bundle of its own, fetched only when pages are shown. */
import { GlobalWorkerOptions, getDocument, type PDFPageProxy, PDFWorker } from "pdfjs-dist";

GlobalWorkerOptions.workerSrc = "/sheets-worker.js";

/** One for all documents: starting a worker takes longer than reading a letter. */
let shared: PDFWorker | undefined;
const worker = (): PDFWorker => {
  if (!shared || shared.destroyed) shared = PDFWorker.create({});
  return shared;
};

/** Lays the pages of `bytes` into `host`, each of this width in pixels; false when `isStale` said so on the way. */
export async function drawPages(
  bytes: Uint8Array,
  host: HTMLElement,
  width: number,
  isStale: () => boolean,
): Promise<boolean> {
  const task = getDocument({
    data: bytes,
    worker: worker(),
    isEvalSupported: false,
    useSystemFonts: false,
    verbosity: 0,
  });
  try {
    const document = await task.promise;
    const all = Array.from({ length: document.numPages }, (_, i) => document.getPage(i + 1));
    for (const [index, page] of all.entries()) {
      const drawn = await drawPage(await page, index + 1, document.numPages, width);
      if (isStale()) return false;
      const there = host.children[index];
      if (there) there.replaceWith(drawn);
      else host.append(drawn);
    }
    while (host.children.length > document.numPages) host.lastElementChild?.remove();
    // Words for those who hear the page come once all of it is seen.
    for (const [index, page] of all.entries()) {
      const words = await wordsOf(await page);
      if (isStale()) return false;
      host.children[index]?.append(words);
    }
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
  await page.render({ canvas, viewport }).promise;
  const figure = document.createElement("figure");
  figure.append(canvas);
  return figure;
}

async function wordsOf(page: PDFPageProxy): Promise<Element> {
  const { items } = await page.getTextContent();
  const words = document.createElement("div");
  words.className = "unseen";
  words.textContent = items
    .map((item) => ("str" in item ? `${item.str}${item.hasEOL ? "\n" : ""}` : ""))
    .join("");
  return words;
}
