/** Pages as read back -> the foot that every page must carry, and the body without it. */
import type { Letter } from "../../letter/document.js";
import type { Visit } from "../../visit/visit.js";
import { type Reason, reason } from "../outcome.js";
import { holdsTokens, type Spelled, spelled, tokensOf, withoutLast } from "../token-text.js";
import { type PageText, type TextRun, textOf } from "./read-pdf.js";

export interface PrintedPage {
  /** From 1. */
  readonly number: number;
  /** Words of the page without foot and draft mark. */
  readonly body: readonly string[];
  /** The same without the numbers of list items, and with the signs between the words. */
  readonly running: Spelled;
  /** All words of the page. */
  readonly all: readonly string[];
  readonly isNumbered: boolean;
  /** True when nothing at all stands outside the foot. */
  readonly isBare: boolean;
  readonly marks: readonly TextRun[];
}

export function printedPages(pages: readonly PageText[], letter: Letter, count: number): PrintedPage[] {
  return pages.map((page, index) => {
    const marks = page.runs.filter((run) => isMark(run, page));
    const level = page.runs.filter((run) => !marks.includes(run));
    const labels = level.filter((run) => isLabel(run, level));
    // The engine draws the number of a list item after its first line; in the middle of a sentence it would part the words.
    const unlabelled = level.filter((run) => !labels.includes(run));
    const spelt = spelled(textOf([...unlabelled, ...labels]));
    const all = spelt.words;
    const pageWords = tokensOf(
      letter.pageWords.replaceAll("{page}", String(index + 1)).replaceAll("{pages}", String(count)),
    );
    const foot = [letter.confidentiality, letter.identifiers, letter.draftMark ?? ""].map(tokensOf);
    const above = (text: Spelled) => foot.reduce(withoutLast, text);
    const whole = above(spelt);
    const isNumbered = holdsTokens(whole.words, pageWords);
    const bare = withoutLast(whole, pageWords);
    const body = bare.words;
    return {
      number: index + 1,
      body,
      running: labels.length > 0 ? withoutLast(above(spelled(textOf(unlabelled))), pageWords) : bare,
      all,
      isNumbered,
      isBare: body.length === 0,
      marks,
    };
  });
}

/** The draft mark is the only turned text of more than two fifths of the page's height; labels of a drawing are small. */
function isMark(run: TextRun, page: PageText): boolean {
  return run.turned && run.bottom - run.top > 0.4 * page.height;
}

/** The number of a list item: a bare `1.` with the item's text beside it. */
function isLabel(run: TextRun, others: readonly TextRun[]): boolean {
  if (!/^\d{1,2}\.$/u.test(run.text.trim())) return false;
  return others.some(
    (o) =>
      o !== run &&
      Math.abs(o.bottom - run.bottom) < 2 &&
      o.left > run.right &&
      o.left < run.right + 20 &&
      o.text.trim() !== "",
  );
}

/** Every page names the patient by full name and number, taken from the visit, and carries the whole foot of the letter. */
export function footFaults(
  pages: readonly PrintedPage[],
  { visit, letter }: { readonly visit: Visit; readonly letter: Letter },
): Reason[] {
  const { given, family } = visit.patient.name;
  const wanted = [tokensOf(`${given} ${family}`), tokensOf(visit.patient.id), tokensOf(letter.identifiers)];
  return pages
    .filter((page) => !wanted.every((words) => words.length === 0 || holdsTokens(page.all, words)))
    .map((page) => reason("patient-not-named", undefined, `page ${page.number}`));
}

/** An unsigned letter carries the mark across every page; a signed one nowhere. */
export function draftFaults(pages: readonly PrintedPage[], isDraft: boolean, mark: string): Reason[] {
  const wanted = tokensOf(mark).join(" ");
  return pages.flatMap((page) => {
    const marked = page.marks.some((run) => tokensOf(run.text).join(" ") === wanted);
    if (marked === isDraft) return [];
    return [reason(isDraft ? "draft-mark-missing" : "draft-mark-wrong", undefined, `page ${page.number}`)];
  });
}
