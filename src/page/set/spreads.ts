/** Where each block of a document landed on the laid-out pages. */
import type { Block, LaidItem, LaidPage } from "./content.js";

export interface Spread {
  readonly block: Block;
  readonly firstPage: number;
  lastPage: number;
  /** Lines or drawings on the first and on the last page. */
  onFirst: number;
  onLast: number;
  /** Points from the top of the first to the bottom of the last, summed over pages. */
  readonly extents: Map<number, { top: number; bottom: number }>;
  /** Whether anything of the flow stands before it on its first page. */
  readonly opensPage: boolean;
}

function bottomOf({ item }: LaidItem): number {
  return item.y + (item.getHeight?.() ?? item._height ?? 0);
}

/** Where each block landed, in reading order. */
export function spreadBlocks(pages: readonly LaidPage[]): Map<Block, Spread> {
  const spreads = new Map<Block, Spread>();
  pages.forEach((page, number) => {
    let started = false;
    for (const laid of page.items) {
      const content = laid.item.content;
      if (!content || content.block.detached) continue;
      let isRepeat = false;
      for (let block: Block | null = content.block; block; block = block.parent) {
        const known = spreads.get(block);
        if (block.repeats && known && known.firstPage < number) isRepeat = true;
        if (isRepeat) continue;
        if (!known) {
          spreads.set(block, {
            block,
            firstPage: number,
            lastPage: number,
            onFirst: 1,
            onLast: 1,
            extents: new Map([[number, { top: laid.item.y, bottom: bottomOf(laid) }]]),
            opensPage: !started,
          });
          continue;
        }
        if (number === known.firstPage) known.onFirst += 1;
        if (number > known.lastPage) {
          known.lastPage = number;
          known.onLast = 1;
        } else if (number === known.lastPage) known.onLast += 1;
        const extent = known.extents.get(number);
        if (!extent)
          known.extents.set(number, {
            top: laid.item.y,
            bottom: bottomOf(laid),
          });
        else {
          extent.top = Math.min(extent.top, laid.item.y);
          extent.bottom = Math.max(extent.bottom, bottomOf(laid));
        }
      }
      if (!isRepeat) started = true;
    }
  });
  return spreads;
}

export function heightOf(spread: Spread): number {
  let height = 0;
  for (const { top, bottom } of spread.extents.values()) height += bottom - top;
  return height;
}

export function isWithin(inner: Block, outer: Block): boolean {
  for (let block: Block | null = inner; block; block = block.parent) if (block === outer) return true;
  return false;
}
