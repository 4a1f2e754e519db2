/**
 * The reader of PDFs for tests. It and the one that proofs letters each put a worker of their own in the same global place, and
 * refuse the other's; so this one takes its own at once and leaves the place as it was.
 */
import { getDocument, OPS, PDFWorker } from "pdfjs-dist/legacy/build/pdf.mjs";

const shared: typeof globalThis & { pdfjsWorker?: unknown } = globalThis;
const { pdfjsWorker } = shared;
delete shared.pdfjsWorker;
const worker = new PDFWorker();
await worker.promise;
worker.destroy();
if (pdfjsWorker) shared.pdfjsWorker = pdfjsWorker;

export { getDocument, OPS };
