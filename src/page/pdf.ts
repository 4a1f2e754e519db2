/** A finished letter -> PDF bytes: tagged, the same for the same letter, and never with anything left out. */
import { hasError, type Outcome, type Problem } from "../base/problem.js";
import type { Letter } from "../letter/document.js";
import { closerIfSparse, withoutHoles } from "./closer.js";
import { type Element, readMarkup } from "./html/markup.js";
import { ContentLost, layOut, print } from "./pdfmake/print.js";
import { pageError } from "./problems.js";
import { type ComposeOptions, compose } from "./set/document.js";
import { using } from "./type/fonts.js";
import { SCALES, tightened } from "./type/scale.js";
import { readTypefaces } from "./typefaces.js";

export interface RenderedPdf {
  readonly bytes: Uint8Array;
  readonly pages: number;
}

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
    const split = whole.flow.movedWhole ? await set(0, { mayMoveTables: false }) : whole;
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
