/** A finished letter -> PDF bytes: tagged, the same for the same letter, and never with anything left out. */
import { hasError, type Outcome, type Problem } from "../base/problem.js";
import type { Letter } from "../letter/document.js";
import { type Element, readMarkup } from "./html/markup.js";
import { ContentLost, type LaidOut, layOut, print } from "./pdfmake/print.js";
import { pageError } from "./problems.js";
import { type ComposeOptions, compose } from "./set/document.js";
import { using } from "./type/fonts.js";
import { SCALES, TIGHTER, tightened } from "./type/scale.js";
import { readTypefaces } from "./typefaces.js";

export interface RenderedPdf {
  readonly bytes: Uint8Array;
  readonly pages: number;
}

/** A last page filled less than this is worth a few tries at setting the letter closer. */
const SPARSE_PAGE = 0.45;

/** How full a page mostly is where a block that did not fit went to the next. */
const FULLNESS = 0.8;

/**
 * Sets a letter as PDF. Equal letters give equal bytes. Problems: anything outside the HTML vocabulary, characters no typeface
 * has, photos that are missing, content that would not appear. Messages never hold the letter's words.
 */
export async function renderPdf(letter: Letter): Promise<Outcome<RenderedPdf>> {
  const markup = readMarkup(letter.html);
  if (!markup.value) return { problems: markup.problems };
  const problems = [...markup.problems];
  const scale = SCALES[letter.typeSize];
  const added = readTypefaces(letter.fonts);
  problems.push(...added.problems);
  const faces = added.value;
  const composed = using(faces, () => compose(letter, markup.value as Element, scale, problems));
  if (hasError(problems)) return { problems };
  try {
    const markupRead = markup.value;
    const set = (degree: number, options: ComposeOptions) =>
      layOut(
        using(faces, () =>
          compose(letter, markupRead, degree > 0 ? tightened(scale, degree) : scale, [], options),
        ),
      );
    const whole = await layOut(composed);
    const split = whole.flow.movedTable ? await set(0, { mayMoveTables: false }) : whole;
    const mayMove = split.count.pages >= whole.count.pages;
    // A page is worth more than a table in one piece.
    const saved = await closerIfSparse(split, (degree) =>
      set(degree, { mayMoveTables: false, fewerThan: split.count.pages }),
    );
    const plain = mayMove ? whole : split;
    const laidOut =
      saved ??
      (await withoutHoles(plain, (degree) =>
        set(degree, {
          mayMoveTables: mayMove || plain.flow.tablesSplit > 0,
          fewerThan: plain.count.pages + 1,
        }),
      ));
    return { value: { bytes: await print(laidOut), pages: laidOut.count.pages }, problems };
  } catch (error) {
    return { problems: [...problems, asProblem(error)] };
  }
}

function isSparse({ count, flow }: LaidOut): boolean {
  return count.pages > 1 && flow.lastPageFilled <= SPARSE_PAGE;
}

/** Pages that together lack this much of one are worth a try at closing the hole. */
const HOLES = 0.03;

/** How much less must be empty for a letter to be set closer. */
const WORTH = 0.03;

/** The letter set a little closer when that closes holes at the feet of its pages, or keeps a table on one page. */
async function withoutHoles(plain: LaidOut, closer: (degree: number) => Promise<LaidOut>): Promise<LaidOut> {
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
async function withWholeTables(
  plain: LaidOut,
  closer: (degree: number) => Promise<LaidOut>,
): Promise<LaidOut> {
  const [, less, , most] = TIGHTER;
  const isBetter = (next: LaidOut) =>
    next.count.pages <= plain.count.pages && next.flow.tablesSplit < plain.flow.tablesSplit;
  if (less === undefined || most === undefined) return plain;
  const closest = await closer(most);
  if (!isBetter(closest)) return plain;
  const next = await closer(less);
  return isBetter(next) ? next : closest;
}

/** The letter set closer by the least degree that should save a page, when its last page is nearly empty. */
async function closerIfSparse(
  plain: LaidOut,
  closer: (degree: number) => Promise<LaidOut>,
): Promise<LaidOut | undefined> {
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

/** The engine's messages can hold cell text, so only the kind of error is passed on. */
function asProblem(error: unknown): Problem {
  if (error instanceof ContentLost) {
    return pageError("content-lost", `not everything in ${error.where} could be placed on a page`, {
      found: error.where,
    });
  }
  return pageError(
    "page-failed",
    `the page could not be made (${error instanceof Error ? error.name : "unknown error"})`,
  );
}
