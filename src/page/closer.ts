/** Which of several settings of a letter is taken: closer where that saves a page, closes a hole or keeps a table in one piece. */
import { TIGHTER } from "./type/scale.js";

/** What is looked at in a setting. */
export interface Setting {
  readonly count: { readonly pages: number };
  readonly flow: {
    readonly lastPageFilled: number;
    readonly emptiness: number;
    readonly tablesSplit: number;
  };
}

/** A last page filled less than this is worth a few tries at setting the letter closer. */
const SPARSE_PAGE = 0.55;

/** How full a page mostly is where a block that did not fit went to the next. */
const FULLNESS = 0.8;

function isSparse({ count, flow }: Setting): boolean {
  return count.pages > 1 && flow.lastPageFilled <= SPARSE_PAGE;
}

/** Pages that together lack this much of one are worth a try at closing the hole. */
const HOLES = 0.03;

/** How much less must be empty for a letter to be set closer. */
const WORTH = 0.03;

/** The letter set a little closer when that closes holes at the feet of its pages, or keeps a table on one page. */
export async function withoutHoles<T extends Setting>(
  plain: T,
  closer: (degree: number) => Promise<T>,
): Promise<T> {
  const { emptiness, tablesSplit } = plain.flow;
  if (tablesSplit > 0) return withWholeTables(plain, closer);
  if (emptiness < HOLES) return plain;
  for (const degree of TIGHTER.slice(0, 2)) {
    const next = await closer(degree);
    const closed = emptiness - next.flow.emptiness;
    if (next.count.pages <= plain.count.pages && closed >= WORTH && next.flow.tablesSplit === 0) return next;
  }
  return plain;
}

/** Two tries at most: where the closer one leaves a table split, the other would too. */
async function withWholeTables<T extends Setting>(
  plain: T,
  closer: (degree: number) => Promise<T>,
): Promise<T> {
  const [, less, , most] = TIGHTER;
  const isBetter = (next: T) =>
    next.count.pages <= plain.count.pages && next.flow.tablesSplit < plain.flow.tablesSplit;
  if (less === undefined || most === undefined) return plain;
  const closest = await closer(most);
  if (!isBetter(closest)) return plain;
  const next = await closer(less);
  return isBetter(next) ? next : closest;
}

/** The letter set closer by the least degree that should save a page, when its last page is nearly empty. */
export async function closerIfSparse<T extends Setting>(
  plain: T,
  closer: (degree: number) => Promise<T>,
): Promise<T | undefined> {
  const closest = TIGHTER.at(-1);
  if (!isSparse(plain) || closest === undefined) return undefined;
  // When the closest setting saves no page, the others need not be tried.
  const last = await closer(closest);
  if (last.count.pages >= plain.count.pages) return undefined;
  // What runs over against what the closest setting leaves empty: about the share of that setting that is needed, on the
  // high side, since a page seldom ends where it is full.
  const over = plain.flow.lastPageFilled;
  const needed = (closest * over * FULLNESS) / (over + 1 - last.flow.lastPageFilled);
  for (const degree of TIGHTER.filter((d) => d >= needed && d < closest)) {
    const next = await closer(degree);
    if (next.count.pages < plain.count.pages) return next;
  }
  return last;
}
