/**
 * Looks at laid-out pages and says where they should break otherwise: no heading without its text, no single lines, nothing
 * split that fits on a page, no signature alone. One change a pass; the layout is then done again.
 */
import type { Block, Content, Flow, LaidPage, PdfNode } from "./content.js";
import { DrawingSizes } from "./drawing-sizes.js";
import { LaidOut, type TextArea } from "./laid-out.js";
import { isWithin, type Spread } from "./spreads.js";

/** Largest share of a page that may stay empty so that something is not split. */
const HOLE = 0.17;

/** Lines under a heading that still are no more than a way into what follows. */
const LEAD_IN = 4;

/** A page emptier than this at its foot looks unfinished. */
const LOOSE = 0.08;

/** Space over a block whose own is not known, in points. */
const USUAL_SPACE = 24;

/** What a document may do to meet its page ends. */
export interface Leeway {
  /** Least share of its size that a drawing is set at. */
  readonly smallestDrawing: number;
  /** Whether tables may move whole. */
  readonly mayMoveTables: boolean;
  /** How many pages are too many for this setting to be chosen. */
  readonly fewerThan?: number | undefined;
}

export class PageBreaks implements Flow {
  private readonly margins = new Map<PdfNode, number>();
  private readonly drawings: DrawingSizes;
  private laid: LaidOut;

  /** `blocks` in reading order, as they were made; where text may stand; all content of a document of so many pages. */
  constructor(
    private readonly blocks: readonly Block[],
    private readonly area: TextArea,
    readonly handed: (pages: number) => readonly PdfNode[],
    private readonly leeway: Leeway,
  ) {
    this.drawings = new DrawingSizes(blocks, area, leeway.smallestDrawing);
    this.laid = new LaidOut([], [], area);
  }

  /** Share of the last page that is filled, 0 to 1, as last laid out; of the last before a sheet of its own. */
  lastPageFilled = 1;
  /** How much of the pages before the last stays empty beyond what is usual, in pages. */
  emptiness = 0;
  /** How many tables that a page could hold are split between pages. */
  tablesSplit = 0;
  /** Whether a table, or words that lead into one, were moved although they could have stayed. */
  movedWhole = false;

  anotherPass(pages: readonly LaidPage[], lost: readonly Content[]): boolean {
    if (splitTallRows(lost)) return true;
    this.laid = new LaidOut(pages, this.blocks, this.area);
    const { blocks, filled, spreads } = this.laid;
    const { fewerThan = Number.POSITIVE_INFINITY } = this.leeway;
    if (pages.length >= fewerThan && !this.drawings.maySavePages(this.laid, fewerThan)) return false;
    if (blocks.some((block, index) => block.breakable && this.mend(block, index))) return true;
    const shrunk = this.drawings.shrinkLonePhotos(this.laid, ({ node }) =>
      node ? (this.margins.get(node) ?? USUAL_SPACE) : USUAL_SPACE,
    );
    if (shrunk) {
      this.forgetFrom(shrunk);
      return true;
    }
    // A sheet of its own says nothing of how well the pages before it are filled.
    const sheet = blocks.find(({ rule }) => rule === "sheet");
    const own = filled.slice(0, (sheet && spreads.get(sheet)?.firstPage) ?? filled.length);
    this.lastPageFilled = own.at(-1) ?? 1;
    this.tablesSplit = this.laid.splitTables();
    this.emptiness = own.slice(0, -1).reduce((sum, share) => sum + Math.max(0, 1 - share - LOOSE), 0);
    return false;
  }

  private mend(block: Block, index: number): boolean {
    const { laid } = this;
    const spread = laid.spreads.get(block);
    if (!spread) return false;
    switch (block.rule) {
      case "whole": {
        const isSplit = laid.isSplit(spread);
        if (block.mayOpenHole === false && isSplit && laid.holeBefore(spread) > HOLE) return false;
        if (block.drawing && spread.opensPage) {
          const before = laid.blocks[index - 1];
          if (this.drawings.shrink(laid, block, before) || this.drawings.giveBack(block)) return true;
        }
        if (block.framed && spread.opensPage && spread.firstPage > 0) return this.breakAt(block);
        return isSplit && !this.followsHeadingAtTop(index) && this.breakBefore(block);
      }
      case "sheet":
        return this.breakBefore(block);
      case "signature":
        return (
          (laid.isSplit(spread) && this.breakBefore(block)) ||
          (spread.opensPage && spread.firstPage > 0 && this.bringPrecedingLines(block, index))
        );
      case "heading": {
        const first = laid.headingsUpTo(index) ?? block;
        if (!this.isStranded(spread, index)) return this.leadsOver(first, index) && this.moveWhole(first);
        const next = laid.blocks[index + 1];
        return (next?.drawing && this.drawings.shrink(laid, next, block)) || this.breakBefore(first);
      }
      case "row":
        return (
          (laid.leavesLast(block) && this.breakBefore(block)) ||
          (this.leeway.mayMoveTables &&
            laid.leavesFirst(block, HOLE) &&
            this.moveWhole(block.parent ?? block))
        );
      case "text":
        return (
          (spread.firstPage !== spread.lastPage && this.mendText(spread)) ||
          (block.parent?.list === true && laid.leavesLast(block) && this.breakBefore(block))
        );
      default:
        return false;
    }
  }

  /** Moves what could stay, for the looks of it. */
  private moveWhole(block: Block): boolean {
    const moved = this.breakBefore(block);
    this.movedWhole ||= moved;
    return moved;
  }

  /** Asks for a page break before `block`; false when it opens its page already or cannot be moved. */
  private breakBefore(block: Block): boolean {
    const spread = this.laid.spreads.get(block);
    if (!spread || spread.opensPage) return false;
    if (block.rule === "row") {
      if (block.breakBefore) return false;
      this.forgetAfter(block);
      block.breakBefore = true;
      return true;
    }
    return this.breakAt(block);
  }

  /** Asks for a page before the block, though its words may stand first on theirs already. */
  private breakAt(block: Block): boolean {
    const { node } = block;
    if (!block.breakable || !node || node.pageBreak) return false;
    this.forgetAfter(block);
    node.pageBreak = "before";
    // A space above would push the first line down from the top of the page.
    if (node.margin) {
      this.margins.set(node, node.margin[1]);
      node.margin[1] = 0;
    }
    return true;
  }

  /** Breaks asked for further on were right for other pages; they are found anew. */
  private forgetAfter(block: Block): void {
    const next = this.blocks[this.blocks.indexOf(block) + 1];
    if (next) this.forgetFrom(next);
  }

  private forgetFrom(block: Block): void {
    for (const later of this.blocks.slice(this.blocks.indexOf(block))) {
      delete later.breakAtLine;
      delete later.breakBefore;
      const { node } = later;
      if (!node?.pageBreak) continue;
      delete node.pageBreak;
      if (node.margin) node.margin[1] = this.margins.get(node) ?? node.margin[1];
    }
  }

  private followsHeadingAtTop(index: number): boolean {
    const heading = this.laid.headingsUpTo(index - 1);
    return heading !== undefined && this.laid.spreads.get(heading)?.opensPage === true;
  }

  /** True when what a block leads in has fewer than two lines on the same page. */
  private isStranded(spread: Spread, index: number): boolean {
    const next = this.laid.blocks.slice(index + 1).find((other) => !isWithin(other, spread.block));
    const following = next && this.laid.spreads.get(next);
    if (!following) return false;
    if (following.firstPage > spread.lastPage) return true;
    if (this.ledToNextPage(next, following, 2)?.rule === "open") return true;
    return next.rule === "text" && following.firstPage !== following.lastPage && following.onFirst < 2;
  }

  /** What a short text leads into, when that begins the next page. */
  private ledToNextPage(lead: Block, { onFirst, firstPage, lastPage }: Spread, lines: number) {
    const led = this.laid.blocks[this.laid.blocks.indexOf(lead) + 1];
    if (lead.rule !== "text" || onFirst > lines || firstPage !== lastPage) return undefined;
    const isOver = led?.parent === lead.parent && (this.laid.spreads.get(led)?.firstPage ?? 0) > lastPage;
    return isOver ? led : undefined;
  }

  /** True for a heading and a few lines when the table or list that they lead into begins the next page and no hole is left. */
  private leadsOver(first: Block, index: number): boolean {
    const lead = this.laid.blocks[index + 1];
    const [top, following] = [first, lead].map((block) => block && this.laid.spreads.get(block));
    if (!this.leeway.mayMoveTables || !lead || !top || !following) return false;
    const led = this.ledToNextPage(lead, following, LEAD_IN);
    return (led?.rule === "open" || led?.rule === "whole") && this.laid.holeBefore(top) <= HOLE;
  }

  /** No single line of a paragraph at either side of a page end. */
  private mendText(spread: Spread): boolean {
    const { block, onFirst, onLast } = spread;
    const twoPages = spread.lastPage === spread.firstPage + 1;
    if (onFirst < 2 || (twoPages && onFirst + onLast < 4)) return this.breakBefore(block);
    if (twoPages && onLast < 2 && block.breakAtLine === undefined) {
      block.breakAtLine = onFirst - 1;
      return true;
    }
    return false;
  }

  /** Brings two lines, or the last row, or the whole block before over to the signature's page. */
  private bringPrecedingLines(block: Block, index: number): boolean {
    const last = this.laid.blocks.slice(0, index).findLast((other) => !isWithin(block, other));
    const spread = last && this.laid.spreads.get(last);
    if (!last || !spread) return false;
    const lines = spread.onFirst;
    const isUnbroken = spread.firstPage === spread.lastPage && last.breakAtLine === undefined;
    if (last.rule === "text" && last.breakable && isUnbroken && lines >= 4) {
      // The signature follows the lines; a page asked for before it alone would part them again.
      this.forgetAfter(last);
      last.breakAtLine = lines - 2;
      return true;
    }
    for (let other: Block | null = last; other; other = other.parent) {
      if (this.breakBefore(other)) return true;
    }
    return false;
  }
}

/** A row that lost words is taller than a page and has to be split after all. */
function splitTallRows(lost: readonly Content[]): boolean {
  let changed = false;
  for (const content of lost) {
    for (let block: Block | null = content.block; block; block = block.parent) {
      if (block.rule === "row" && !block.mayBeSplit) {
        block.mayBeSplit = true;
        changed = true;
      }
    }
  }
  return changed;
}
