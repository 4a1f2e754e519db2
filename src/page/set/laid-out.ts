/** One look at laid-out pages: where each block landed, what stands next to what and how full each page is. */
import type { Block, LaidPage } from "./content.js";
import { heightOf, type Spread, spreadBlocks } from "./spreads.js";

/** Where text may stand on a page, in points. */
export interface TextArea {
  readonly top: number;
  readonly height: number;
}

/** As much of a page as a block may take and still count as one that fits. */
export const FITS = 0.92;

export class LaidOut {
  readonly spreads: ReadonlyMap<Block, Spread>;
  /** The blocks that landed, in reading order. */
  readonly blocks: readonly Block[];
  /** Share of each page down to its lowest block. */
  readonly filled: readonly number[];

  constructor(
    pages: readonly LaidPage[],
    blocks: readonly Block[],
    private readonly area: TextArea,
  ) {
    this.spreads = spreadBlocks(pages);
    this.blocks = blocks.filter((block) => this.spreads.has(block));
    const bottoms = pages.map(() => area.top);
    for (const { extents } of this.spreads.values())
      for (const [page, { bottom }] of extents) bottoms[page] = Math.max(bottoms[page] ?? 0, bottom);
    this.filled = bottoms.map((bottom) => (bottom - area.top) / area.height);
  }

  /** True for a block of two pages that would fit on one. */
  isSplit({ block, firstPage, lastPage }: Spread): boolean {
    const share = heightOf(this.spreads.get(block) as Spread) / this.area.height;
    return firstPage !== lastPage && share < (block.keptBelow ?? FITS);
  }

  /** Share of its first page that would stay empty if a block moved to the next. */
  holeBefore({ extents, firstPage }: Spread): number {
    const { top, height } = this.area;
    return (top + height - (extents.get(firstPage)?.top ?? top)) / height;
  }

  /** Height left on a page below a block, in points. */
  roomBelow({ extents, lastPage }: Spread): number {
    return this.area.top + this.area.height - (extents.get(lastPage)?.bottom ?? Number.POSITIVE_INFINITY);
  }

  /** The first of the headings that stand directly one after another and end with the one at `index`; undefined for other blocks. */
  headingsUpTo(index: number): Block | undefined {
    let first = index + 1;
    while (this.blocks[first - 1]?.rule === "heading") first -= 1;
    return first > index ? undefined : this.blocks[first];
  }

  /** Rows or list items with the same parent, in order, without those that are drawn again. */
  siblings(block: Block): readonly Block[] {
    return this.blocks.filter((o) => o.rule === block.rule && o.parent === block.parent && !o.repeats);
  }

  /** True for the last row or list item but one when the last alone begins a page and another stays behind. */
  leavesLast(block: Block): boolean {
    const parts = this.siblings(block);
    const place = parts.indexOf(block);
    const last = parts[place + 1];
    return (
      place > 0 &&
      place === parts.length - 2 &&
      last !== undefined &&
      this.spreads.get(last)?.opensPage === true
    );
  }

  /** True for a table's first row when it alone stays behind, the table fits on a page and moving it leaves no hole. */
  leavesFirst(row: Block, largestHole: number): boolean {
    const table = row.parent && this.spreads.get(row.parent);
    if (!table || row.repeats || !this.isSplit(table)) return false;
    const [first, second] = this.siblings(row);
    if (first !== row || !second || this.spreads.get(second)?.opensPage !== true) return false;
    // What stands over the table goes along.
    const over = this.headingsUpTo(this.blocks.indexOf(table.block) - 1);
    return this.holeBefore((over && this.spreads.get(over)) ?? table) <= largestHole;
  }

  /** Tables in two parts that a page could hold, where they are short or a row of theirs stands alone. */
  splitTables(): number {
    const rows = this.blocks.filter(({ rule, repeats }) => rule === "row" && !repeats);
    return [...new Set(rows.map(({ parent }) => parent))].filter((table) => {
      const spread = table && this.spreads.get(table);
      if (!spread || spread.firstPage === spread.lastPage) return false;
      const own = rows.filter(({ parent }) => parent === table);
      const before = own.filter((row) => this.spreads.get(row)?.firstPage === spread.firstPage).length;
      const isRagged = before === 1 || before === own.length - 1;
      return heightOf(spread) < this.area.height * (isRagged ? FITS : 0.35);
    }).length;
  }
}
