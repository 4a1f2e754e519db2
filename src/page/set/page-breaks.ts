/**
 * Looks at laid-out pages and says where they should break otherwise: no heading without its text, no single lines, nothing
 * split that fits on a page, no signature alone. One change a pass; the layout is then done again.
 */
import type { Block, Content, Flow, LaidPage, PdfNode } from "./content.js";
import { heightOf, isWithin, type Spread, spreadBlocks } from "./spreads.js";

/** Largest share of a page that may stay empty so that something is not split. */
const HOLE = 0.17;

/** Least share of its size that a photo is set at so as not to need a page of its own. */
const SMALLEST_PHOTO = 0.5;

/** A page emptier than this at its foot looks unfinished. */
const LOOSE = 0.11;

/** A block that comes to open a page loses no more space than this above it, in points. */
const TOP_SPACE = 40;

export class PageBreaks implements Flow {
  private readonly margins = new Map<PdfNode, number>();
  /** Drawings set smaller, with the size they had. */
  private readonly shrunk = new Map<Block, readonly [number, number]>();
  private spreads: ReadonlyMap<Block, Spread> = new Map();
  private laid: readonly Block[] = [];

  /**
   * `blocks` in reading order, as they were made; top and height of the text area in points; the least share of its size that
   * a drawing is set at; all content of a document of so many pages; whether
   * tables may move whole; how many pages are too many for this setting to be chosen.
   */
  constructor(
    private readonly blocks: readonly Block[],
    private readonly top: number,
    private readonly pageHeight: number,
    private readonly smallestDrawing: number,
    readonly handed: (pages: number) => readonly PdfNode[],
    private readonly mayMoveTables: boolean,
    private readonly fewerThan = Number.POSITIVE_INFINITY,
  ) {}

  /** Share of the last page that is filled, 0 to 1, as last laid out; of the last before a sheet of its own. */
  lastPageFilled = 1;
  /** How much of the pages before the last stays empty beyond what is usual, in pages. */
  emptiness = 0;
  /** How many tables that a page could hold are split between pages. */
  tablesSplit = 0;
  /** Whether a table was moved whole so that its first row does not stay behind alone. */
  movedTable = false;

  anotherPass(pages: readonly LaidPage[], lost: readonly Content[]): boolean {
    if (this.splitTallRows(lost)) return true;
    this.spreads = spreadBlocks(pages);
    if (pages.length >= this.fewerThan && !this.mayStillShrink(pages.length)) return false;
    this.laid = this.blocks.filter((block) => this.spreads.has(block));
    if (this.laid.some((block, index) => block.breakable && this.mend(block, index))) return true;
    const filled = pages.map((_, page) => this.filled(page));
    if (filled.length > 1 && this.shrinkLonePhotos(pages.length - 1, filled.at(-2) ?? 1)) return true;
    // A sheet of its own says nothing of how well the pages before it are filled.
    const sheet = this.laid.find(({ rule }) => rule === "sheet");
    const own = filled.slice(0, (sheet && this.spreads.get(sheet)?.firstPage) ?? filled.length);
    this.lastPageFilled = own.at(-1) ?? 1;
    this.tablesSplit = this.splitTables();
    this.emptiness = own.slice(0, -1).reduce((sum, share) => sum + Math.max(0, 1 - share - LOOSE), 0);
    return false;
  }

  /** Whether holes and drawings together might give room for what stands on the pages that are too many; breaks only take room. */
  private mayStillShrink(pages: number): boolean {
    let room = 0;
    for (let page = 0; page < pages; page += 1) {
      const share = this.filled(page);
      room += this.pageHeight * (page + 1 < this.fewerThan ? 1 - share : -share) + TOP_SPACE;
    }
    for (const { drawing, photo } of this.blocks) {
      room += (drawing?.fit?.[1] ?? 0) * (1 - this.smallestDrawing);
      room += (photo?.fit?.[1] ?? 0) * (1 - SMALLEST_PHOTO);
    }
    return room >= 0;
  }

  /** A row that lost words is taller than a page and has to be split after all. */
  private splitTallRows(lost: readonly Content[]): boolean {
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

  private mend(block: Block, index: number): boolean {
    const spread = this.spreads.get(block);
    if (!spread) return false;
    const isSplit =
      spread.firstPage !== spread.lastPage && heightOf(spread) < this.pageHeight * (block.keptBelow ?? 0.92);
    switch (block.rule) {
      case "whole":
        if (block.mayOpenHole === false && isSplit && this.holeBefore(spread) > HOLE) return false;
        if (block.drawing && spread.opensPage) {
          if (this.shrink(block, this.laid[index - 1]) || this.giveBackSize(block)) return true;
        }
        if (block.framed && spread.opensPage && spread.firstPage > 0) return this.breakAt(block);
        return isSplit && !this.followsHeadingAtTop(index) && this.breakBefore(block);
      case "sheet":
        return this.breakBefore(block);
      case "signature":
        return (
          (isSplit && this.breakBefore(block)) ||
          (spread.opensPage && spread.firstPage > 0 && this.bringPrecedingLines(block, index))
        );
      case "heading": {
        if (!this.isStranded(spread, index)) return false;
        const next = this.laid[index + 1];
        return (next?.drawing && this.shrink(next, block)) || this.breakBefore(this.firstOfHeadings(index));
      }
      case "row":
        return (
          (this.leavesLast(block) && this.breakBefore(block)) ||
          (this.mayMoveTables && this.isLeftAlone(block, index) && this.moveTable(block))
        );
      case "text":
        return (
          (spread.firstPage !== spread.lastPage && this.mendText(spread)) ||
          (block.parent?.list === true && this.leavesLast(block) && this.breakBefore(block))
        );
      default:
        return false;
    }
  }

  /** Tables in two parts that a page could hold, where they are short or a row of theirs stands alone. */
  private splitTables(): number {
    const rows = this.laid.filter(({ rule, repeats }) => rule === "row" && !repeats);
    return [...new Set(rows.map(({ parent }) => parent))].filter((table) => {
      const spread = table && this.spreads.get(table);
      if (!spread || spread.firstPage === spread.lastPage) return false;
      const own = rows.filter(({ parent }) => parent === table);
      const before = own.filter((row) => this.spreads.get(row)?.firstPage === spread.firstPage).length;
      const isRagged = before === 1 || before === own.length - 1;
      return heightOf(spread) < this.pageHeight * (isRagged ? 0.92 : 0.35);
    }).length;
  }

  /** Share of its first page that would stay empty if a block moved to the next. */
  private holeBefore(spread: Spread): number {
    const top = spread.extents.get(spread.firstPage)?.top ?? this.top;
    return (this.top + this.pageHeight - top) / this.pageHeight;
  }

  /** True for a table's first row when it alone stays behind, the table fits on a page and moving it leaves no hole. */
  private isLeftAlone(block: Block, index: number): boolean {
    const spread = this.spreads.get(block);
    const table = block.parent && this.spreads.get(block.parent);
    if (!spread || !table || table.firstPage === table.lastPage || block.repeats) return false;
    const rows = this.laid.filter(
      (other) => other.rule === "row" && other.parent === block.parent && !other.repeats,
    );
    const next = rows[1] && this.spreads.get(rows[1]);
    if (rows[0] !== block || next?.opensPage !== true || heightOf(table) > this.pageHeight * 0.92)
      return false;
    const before = this.laid[index - 1];
    const heading =
      before?.rule === "heading" ? this.spreads.get(this.firstOfHeadings(index - 1)) : undefined;
    return this.holeBefore(heading ?? table) <= HOLE;
  }

  private moveTable(row: Block): boolean {
    const moved = this.breakBefore(row.parent ?? row);
    this.movedTable ||= moved;
    return moved;
  }

  /** Asks for a page break before `block`; false when it opens its page already or cannot be moved. */
  private breakBefore(block: Block): boolean {
    const spread = this.spreads.get(block);
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

  /** Share of a page down to its lowest block. */
  private filled(page: number): number {
    let bottom = this.top;
    for (const { extents } of this.spreads.values())
      bottom = Math.max(bottom, extents.get(page)?.bottom ?? 0);
    return (bottom - this.top) / this.pageHeight;
  }

  /** A last page for photos alone: they are set smaller when that lets them stand on the page before. */
  private shrinkLonePhotos(page: number, filledBefore: number): boolean {
    const onPage = this.laid.filter((block) => this.spreads.get(block)?.lastPage === page);
    const first = onPage[0];
    const photos = onPage.filter((block) => block.photo !== undefined);
    const isAlone = onPage.every(
      (block) =>
        block.rule === "heading" || photos.some((p) => isWithin(p, block) || this.isBeside(block, p)),
    );
    if (!first || photos.length === 0 || !isAlone || photos.some((block) => this.shrunk.has(block)))
      return false;
    if (onPage.some((block) => this.spreads.get(block)?.firstPage !== page)) return false;
    const room = (1 - filledBefore) * this.pageHeight - (this.margins.get(first.node as PdfNode) ?? 24) - 6;
    const used = this.filled(page) * this.pageHeight;
    const tallest = Math.max(...photos.map((block) => block.photo?.fit?.[1] ?? 0));
    const factor = (tallest - (used - room)) / tallest;
    if (factor < SMALLEST_PHOTO || factor >= 1) return false;
    for (const block of photos) {
      const [width, height] = block.photo?.fit ?? [0, 0];
      this.shrunk.set(block, [width, height]);
      const size = Math.min(1, (tallest * factor) / height);
      if (block.photo) block.photo.fit = [width * size, height * size];
    }
    this.forgetAfter(first, true);
    return true;
  }

  /** Words beside or under a photo, in what holds both. */
  private isBeside(block: Block, photo: Block): boolean {
    for (let around = photo.parent; around; around = around.parent)
      if (around.rule === "whole" && isWithin(block, around)) return true;
    return false;
  }

  /** Sets a drawing smaller when that lets its figure stand on the page of what comes before it. */
  private shrink(figure: Block, before: Block | undefined): boolean {
    const spread = this.spreads.get(figure);
    const ahead = before && this.spreads.get(before);
    const { drawing, node } = figure;
    if (!spread || !ahead || !drawing?.fit || !node || node.pageBreak || this.shrunk.has(figure))
      return false;
    if (ahead.lastPage !== spread.firstPage - 1) return false;
    const bottom = ahead.extents.get(ahead.lastPage)?.bottom ?? Number.POSITIVE_INFINITY;
    const room = this.top + this.pageHeight - bottom - (node.margin?.[1] ?? 0) - 4;
    const [width, height] = drawing.fit;
    const smaller = room - (heightOf(spread) - height);
    if (smaller < height * this.smallestDrawing || smaller >= height) return false;
    this.shrunk.set(figure, [width, height]);
    drawing.fit = [(width * smaller) / height, smaller];
    return true;
  }

  /** A drawing that opens a page although it was set smaller has its size back: it was made small for nothing. */
  private giveBackSize(figure: Block): boolean {
    const size = this.shrunk.get(figure);
    const { drawing } = figure;
    if (!size || !drawing?.fit || drawing.fit[1] >= size[1]) return false;
    drawing.fit = [...size];
    return true;
  }

  /** Breaks asked for further on were right for other pages; they are found anew. */
  private forgetAfter(block: Block, andOf = false): void {
    for (const later of this.blocks.slice(this.blocks.indexOf(block) + (andOf ? 0 : 1))) {
      delete later.breakAtLine;
      delete later.breakBefore;
      const { node } = later;
      if (!node?.pageBreak) continue;
      delete node.pageBreak;
      if (node.margin) node.margin[1] = this.margins.get(node) ?? node.margin[1];
    }
  }

  private followsHeadingAtTop(index: number): boolean {
    const before = this.laid[index - 1];
    return (
      before?.rule === "heading" && this.spreads.get(this.firstOfHeadings(index - 1))?.opensPage === true
    );
  }

  /** The first of the headings that stand directly one after another and end with the one at `index`. */
  private firstOfHeadings(index: number): Block {
    let first = index;
    while (this.laid[first - 1]?.rule === "heading") first -= 1;
    return this.laid[first] as Block;
  }

  /** True when what a block leads in has fewer than two lines on the same page. */
  private isStranded(spread: Spread, index: number): boolean {
    const next = this.laid.slice(index + 1).find((other) => !isWithin(other, spread.block));
    const following = next && this.spreads.get(next);
    if (!following) return false;
    if (following.firstPage > spread.lastPage) return true;
    if (this.leadsIntoNextPage(next, following)) return true;
    return next.rule === "text" && following.firstPage !== following.lastPage && following.onFirst < 2;
  }

  /** True for a line or two under a heading when the table or list that they lead into begins the next page. */
  private leadsIntoNextPage(lead: Block, { onFirst, firstPage, lastPage }: Spread): boolean {
    const led = this.laid[this.laid.indexOf(lead) + 1];
    return (
      lead.rule === "text" &&
      onFirst <= 2 &&
      firstPage === lastPage &&
      led?.rule === "open" &&
      led.parent === lead.parent &&
      (this.spreads.get(led)?.firstPage ?? 0) > lastPage
    );
  }

  /** True for the last row or list item but one when the last alone begins a page and another stays behind. */
  private leavesLast(block: Block): boolean {
    const parts = this.laid.filter(
      (other) => other.rule === block.rule && other.parent === block.parent && !other.repeats,
    );
    const place = parts.indexOf(block);
    const last = parts[place + 1];
    return (
      place > 0 &&
      place === parts.length - 2 &&
      last !== undefined &&
      this.spreads.get(last)?.opensPage === true
    );
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
    const last = this.laid.slice(0, index).findLast((other) => !isWithin(block, other));
    const spread = last && this.spreads.get(last);
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
