/**
 * Writes the file in large pieces: the engine makes bytes of each operator and each line by itself and sends them through a
 * stream. Pages are drawn only once one of several settings is chosen.
 */
import type { LaidPage } from "../set/content.js";
import type { Engine, EngineDocument, EnginePage } from "./engine.js";

const kept = new WeakMap<EnginePage, string[]>();

/** What was drawn on a page so far. */
export function operatorsOf(page: EnginePage): string[] {
  let operators = kept.get(page);
  if (!operators) {
    operators = [];
    kept.set(page, operators);
  }
  return operators;
}

/** The engine makes bytes of each operator by itself; here a page's operators are kept as text until the page is done. */
function writePagesAtOnce({ PDFDocument }: Engine): void {
  const { flushPages } = PDFDocument.prototype;
  PDFDocument.prototype.addContent = function (operators) {
    operatorsOf(this.page).push(operators);
    return this;
  };
  PDFDocument.prototype.flushPages = function () {
    for (const page of this._pageBuffer) {
      page.write(operatorsOf(page).join("\n"));
      kept.delete(page);
    }
    flushPages.call(this);
  };
}

/** A document's bytes so far: what is text stays text until something else comes. */
interface Written {
  readonly chunks: Uint8Array[];
  text: string[];
}

const written = new WeakMap<EngineDocument, Written>();

function closeText(document: Written): void {
  if (document.text.length === 0) return;
  document.chunks.push(Buffer.from(document.text.join(""), "latin1"));
  document.text = [];
}

/** The finished document's bytes: those kept here, or those that went through the stream. */
export function bytesOf(document: EngineDocument, streamed: readonly Uint8Array[]): Uint8Array {
  const all = written.get(document);
  if (all) closeText(all);
  written.delete(document);
  return new Uint8Array(Buffer.concat(all?.chunks ?? streamed));
}

/** The engine makes bytes of each line of the file by itself and sends them through a stream. */
function writeFilesAtOnce({ PDFDocument }: Engine): void {
  PDFDocument.prototype._write = function (data) {
    let all = written.get(this);
    if (!all) {
      all = { chunks: [], text: [] };
      written.set(this, all);
    }
    if (data instanceof Uint8Array) {
      closeText(all);
      all.chunks.push(data);
      this._offset += data.length;
    } else {
      all.text.push(data, "\n");
      this._offset += data.length + 1;
    }
  };
}

const waiting = new WeakMap<EngineDocument, { readonly pages: readonly LaidPage[]; draw(): void }>();

/** The pages laid out for this document; undefined when the engine no longer shows them. */
export function laidPages(document: EngineDocument): readonly LaidPage[] | undefined {
  return waiting.get(document)?.pages;
}

/** Draws the pages that were laid out for this document. */
export function drawPages(document: EngineDocument): void {
  waiting.get(document)?.draw();
}

function drawWhenAsked({ Renderer }: Engine): void {
  const { renderPages } = Renderer.prototype;
  Renderer.prototype.renderPages = function (pages) {
    waiting.set(this.pdfDocument, { pages, draw: () => renderPages.call(this, pages) });
  };
}

/** Makes the engine write this way. */
export function patchFile(engine: Engine): void {
  writePagesAtOnce(engine);
  writeFilesAtOnce(engine);
  drawWhenAsked(engine);
}
