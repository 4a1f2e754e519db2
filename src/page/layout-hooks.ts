/**
 * Amends the engine's layout: lines know their block, finished pages can be looked at and laid out again, rows can be told
 * to break, and words that fell off a page are found (the engine drops unsplittable content taller than a page in silence).
 */
import type { Engine, Line } from "./engine.js";
import type { LaidPage, Leaf, PdfNode } from "./page-content.js";

/** Passes before giving up on better breaks; each mends at least one. */
const PASSES = 60;

interface Pass {
  readonly lines: Map<number, Line>;
  readonly drawings: Set<Leaf>;
}

let serial = 0;
let pass: Pass | undefined;

/** Leaves of which something was set but is on no page, or runs out of its column; lines without a leaf (the foot) are told by `undefined`. */
function lostIn(pages: readonly LaidPage[], made: Pass): (Leaf | undefined)[] {
  const missing = new Map(made.lines);
  const drawings = new Set(made.drawings);
  for (const { items } of pages) {
    for (const { item } of items) {
      if (item.serial !== undefined) missing.delete(item.serial);
      if (item.leaf) drawings.delete(item.leaf);
    }
  }
  const overfull = [...made.lines.values()].filter((line) => line.getWidth() > line.maxWidth + 0.5);
  return [...new Set([...[...missing.values(), ...overfull].map((line) => line.leaf), ...drawings])];
}

/** Thrown when content would be missing from the pages; `where` names its element, never its words. */
export class ContentLost extends Error {
  constructor(readonly where: string) {
    super(`content lost: ${where}`);
  }
}

function isOnOpenPage(layout: {
  writer: { transactionLevel: number; context(): { snapshots: unknown[] } };
}): boolean {
  return layout.writer.transactionLevel === 0 && layout.writer.context().snapshots.length === 0;
}

/** Makes the engine heed `flow`, `leaf`, `downTo` and the breaks that blocks ask for. */
export function amendForFlow({ LayoutBuilder, TableProcessor }: Engine): void {
  const { layoutDocument, buildNextLine, processNode } = LayoutBuilder.prototype;
  const linesSet = new WeakMap<Leaf, number>();

  LayoutBuilder.prototype.layoutDocument = function (content, ...rest) {
    const { flow } = content;
    for (let passes = 1; ; passes += 1) {
      const made: Pass = { lines: new Map(), drawings: new Set() };
      pass = made;
      const pages = layoutDocument.call(this, content, ...rest);
      pass = undefined;
      const lost = lostIn(pages, made);
      const known = lost.filter((leaf) => leaf !== undefined);
      if (!flow?.anotherPass(pages, known) || passes === PASSES) {
        if (lost.length > 0) throw new ContentLost(known[0]?.block.where ?? "the foot of the page");
        return pages;
      }
      for (const node of this.linearNodeList) node.resetXY();
    }
  };

  LayoutBuilder.prototype.buildNextLine = function (node: PdfNode) {
    const { availableWidth } = this.writer.context();
    for (const inline of node._inlines ?? []) {
      if (inline.isBound && inline.width > availableWidth) inline.noWrap = false;
    }
    const line = buildNextLine.call(this, node);
    if (!line) return line;
    serial += 1;
    line.serial = serial;
    pass?.lines.set(serial, line);
    if (node.leaf) {
      line.leaf = node.leaf;
      const { block } = node.leaf;
      const index = linesSet.get(node.leaf) ?? 0;
      linesSet.set(node.leaf, index + 1);
      if (block.breakAtLine !== undefined && block.breakAtLine === index && isOnOpenPage(this)) {
        this.writer.moveToNextPage();
      }
    }
    return line;
  };

  LayoutBuilder.prototype.processNode = function (node, ...rest) {
    if (node.leaf) linesSet.set(node.leaf, 0);
    if (node.leaf && (node.svg !== undefined || node.image !== undefined)) pass?.drawings.add(node.leaf);
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
