/** Lets lines know their content, finished pages be looked at, laid out again and drawn later, rows be told to break. */
import type { Content, LaidPage, PdfNode } from "../set/content.js";
import type { Engine, EngineDocument, EngineLayout } from "./engine.js";
import { ContentLost, missingFrom } from "./guard.js";
import { keepLastWords, patchLines } from "./patch-lines.js";

/** Passes before giving up on better breaks; each mends at least one. */
const PASSES = 60;

/** A copy for the engine, which writes on what it is given; words are shared, since they are only read. */
function copyOf(node: PdfNode): PdfNode {
  const { stack, columns, ul, ol, table, margin, canvas } = node;
  return {
    ...node,
    ...(stack ? { stack: stack.map(copyOf) } : {}),
    ...(columns ? { columns: columns.map(copyOf) } : {}),
    ...(ul ? { ul: ul.map(copyOf) } : {}),
    ...(ol ? { ol: ol.map(copyOf) } : {}),
    ...(table
      ? { table: { ...table, widths: [...table.widths], body: table.body.map((row) => row.map(copyOf)) } }
      : {}),
    ...(margin ? { margin: [...margin] } : {}),
    ...(canvas ? { canvas: canvas.map((vector) => ({ ...vector })) } : {}),
  };
}

function isOnOpenPage(layout: {
  writer: { transactionLevel: number; context(): { snapshots: unknown[] } };
}): boolean {
  return layout.writer.transactionLevel === 0 && layout.writer.context().snapshots.length === 0;
}

type PageNode = ((page: number, pages: number) => PdfNode | undefined) | undefined;

/** What is set anew for every page, copied likewise. */
function copying(make: unknown): PageNode {
  if (typeof make !== "function") return undefined;
  return (page, pages) => {
    const node = (make as NonNullable<PageNode>)(page, pages);
    return node && copyOf(node);
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

/** Makes the engine obey `flow`, `downTo` and the breaks that blocks ask for. */
export function patchFlow(engine: Engine): void {
  const { LayoutBuilder, TableProcessor, Renderer } = engine;
  patchLines(engine);
  // Pages wait until one of several settings of a letter is chosen.
  const { renderPages } = Renderer.prototype;
  Renderer.prototype.renderPages = function (pages) {
    waiting.set(this.pdfDocument, { pages, draw: () => renderPages.call(this, pages) });
  };

  const { layoutDocument, buildNextLine, processNode, addHeadersAndFooters } = LayoutBuilder.prototype;
  const linesSet = new WeakMap<Content, number>();
  const begun = new WeakSet<PdfNode>();
  /** Layouts whose breaks are still looked for: the feet of their pages change nothing above them. */
  const unsettled = new WeakSet<EngineLayout>();

  LayoutBuilder.prototype.addHeadersAndFooters = function (header, footer) {
    if (!unsettled.has(this)) addHeadersAndFooters.call(this, header, footer);
  };

  LayoutBuilder.prototype.layoutDocument = function (
    root,
    document,
    styles,
    defaultStyle,
    background,
    header,
    footer,
    ...rest
  ) {
    const { flow } = root;
    unsettled.add(this);
    for (let passes = 1; ; passes += 1) {
      // Whatever the engine wrote on the content of an earlier pass must not matter to the next.
      const pages = layoutDocument.call(
        this,
        copyOf(root),
        document,
        styles,
        defaultStyle,
        copying(background),
        header,
        footer,
        ...rest,
      );
      const lost = missingFrom(pages, root);
      if (flow?.anotherPass(pages, lost) && passes < PASSES) continue;
      if (lost[0]) throw new ContentLost(lost[0].block.where);
      unsettled.delete(this);
      addHeadersAndFooters.call(this, header, copying(footer));
      return pages;
    }
  };

  LayoutBuilder.prototype.buildNextLine = function (node) {
    const { availableWidth } = this.writer.context();
    if (!begun.has(node)) {
      begun.add(node);
      for (const inline of node._inlines ?? []) {
        if (inline.isBound) inline.noWrap = inline.width <= availableWidth;
      }
      keepLastWords(node._inlines ?? [], availableWidth);
    }
    const line = buildNextLine.call(this, node);
    if (!line || !node.content) return line;
    line.content = node.content;
    const { block } = node.content;
    const index = linesSet.get(node.content) ?? 0;
    linesSet.set(node.content, index + 1);
    if (block.breakAtLine !== undefined && block.breakAtLine === index && isOnOpenPage(this)) {
      this.writer.moveToNextPage();
    }
    return line;
  };

  LayoutBuilder.prototype.processNode = function (node, ...rest) {
    if (node.content) linesSet.set(node.content, 0);
    if (node.downTo !== undefined) {
      const context = this.writer.context();
      if (context.page === 0 && context.y < node.downTo) context.moveDown(node.downTo - context.y);
    }
    processNode.call(this, node, ...rest);
  };

  const { beginRow } = TableProcessor.prototype;
  TableProcessor.prototype.beginRow = function (index, writer) {
    const block = this.tableNode.table?.rowBlocks?.[index];
    if (block?.breakBefore && writer.transactionLevel === 0) writer.moveToNextPage();
    const { dontBreakRows } = this;
    // The engine decides here whether the row is set as one piece.
    if (block?.mayBeSplit) this.dontBreakRows = false;
    beginRow.call(this, index, writer);
    this.dontBreakRows = dontBreakRows;
  };
}
