/** Drawings and photos that are set smaller where that keeps them beside their words or saves a page. */
import type { Block } from "./content.js";
import type { LaidOut, TextArea } from "./laid-out.js";
import { heightOf, isWithin } from "./spreads.js";

/** Least share of its size that a photo is set at so as not to need a page of its own. */
const SMALLEST_PHOTO = 0.5;

/** A block that comes to open a page loses no more space than this above it, in points. */
const TOP_SPACE = 40;

export class DrawingSizes {
  /** Drawings set smaller, with the size they had. */
  private readonly had = new Map<Block, readonly [number, number]>();

  /** The blocks of a document, where its text may stand, and the least share of its size that a drawing is set at. */
  constructor(
    private readonly blocks: readonly Block[],
    private readonly area: TextArea,
    private readonly smallest: number,
  ) {}

  /** Whether holes and smaller drawings together might give room for all that stands on the pages from `fewerThan` on. */
  maySavePages({ filled }: LaidOut, fewerThan: number): boolean {
    let room = 0;
    for (const [page, share] of filled.entries())
      room += this.area.height * (page + 1 < fewerThan ? 1 - share : -share) + TOP_SPACE;
    for (const { drawing, photo } of this.blocks) {
      room += (drawing?.fit?.[1] ?? 0) * (1 - this.smallest);
      room += (photo?.fit?.[1] ?? 0) * (1 - SMALLEST_PHOTO);
    }
    return room >= 0;
  }

  /** Sets a drawing smaller when that lets its figure stand on the page of what comes before it. */
  shrink(laid: LaidOut, figure: Block, before: Block | undefined): boolean {
    const spread = laid.spreads.get(figure);
    const ahead = before && laid.spreads.get(before);
    const { drawing, node } = figure;
    if (!spread || !ahead || !drawing?.fit || !node || node.pageBreak || this.had.has(figure)) return false;
    if (ahead.lastPage !== spread.firstPage - 1) return false;
    const [width, height] = drawing.fit;
    const room = laid.roomBelow(ahead) - (node.margin?.[1] ?? 0) - 4;
    const smaller = room - (heightOf(spread) - height);
    if (smaller < height * this.smallest || smaller >= height) return false;
    this.had.set(figure, [width, height]);
    drawing.fit = [(width * smaller) / height, smaller];
    return true;
  }

  /** A drawing that opens a page although it was set smaller has its size back: it was made small for nothing. */
  giveBack(figure: Block): boolean {
    const size = this.had.get(figure);
    const { drawing } = figure;
    if (!size || !drawing?.fit || drawing.fit[1] >= size[1]) return false;
    drawing.fit = [...size];
    return true;
  }

  /**
   * A last page for photos alone: they are set smaller when that lets them stand on the page before. Gives the first block of
   * that page then; `spaceOver` is the space above a block that opens no page.
   */
  shrinkLonePhotos(laid: LaidOut, spaceOver: (block: Block) => number): Block | undefined {
    const page = laid.filled.length - 1;
    const onPage = laid.blocks.filter((block) => laid.spreads.get(block)?.lastPage === page);
    const first = onPage[0];
    const photos = onPage.filter((block) => block.photo !== undefined);
    const isAlone = onPage.every(
      (block) => block.rule === "heading" || photos.some((p) => isWithin(p, block) || isBeside(block, p)),
    );
    if (
      page === 0 ||
      !first ||
      photos.length === 0 ||
      !isAlone ||
      photos.some((block) => this.had.has(block))
    )
      return undefined;
    if (onPage.some((block) => laid.spreads.get(block)?.firstPage !== page)) return undefined;
    const { height } = this.area;
    const room = (1 - (laid.filled[page - 1] ?? 1)) * height - spaceOver(first) - 6;
    const used = (laid.filled[page] ?? 0) * height;
    const tallest = Math.max(...photos.map((block) => block.photo?.fit?.[1] ?? 0));
    const factor = (tallest - (used - room)) / tallest;
    if (factor < SMALLEST_PHOTO || factor >= 1) return undefined;
    for (const block of photos) {
      const [width, tall] = block.photo?.fit ?? [0, 0];
      this.had.set(block, [width, tall]);
      const size = Math.min(1, (tallest * factor) / tall);
      if (block.photo) block.photo.fit = [width * size, tall * size];
    }
    return first;
  }
}

/** Words beside or under a photo, in what holds both. */
function isBeside(block: Block, photo: Block): boolean {
  for (let around = photo.parent; around; around = around.parent)
    if (around.rule === "whole" && isWithin(block, around)) return true;
  return false;
}
