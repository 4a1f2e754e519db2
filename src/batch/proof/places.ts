/** Where text stands on the paper: the address in the envelope window, and nothing beyond the edge. */
import { SHEETS } from "../../base/paper.js";
import type { Letter } from "../../letter/document.js";
import { mm, WINDOWS } from "../../page/type/paper.js";
import type { Recipient } from "../../visit/visit.js";
import { type Reason, reason } from "../outcome.js";
import { holdsTokens, tokensOf } from "../token-text.js";
import { type PageText, type TextRun, textOf } from "./read-pdf.js";

/** Rounding of glyph widths and line heights, in points. */
const SLACK = 2;

/** The window of the first page shows the recipient's name and address as the visit has them, and nothing else. */
export function addressFaults(
  pages: readonly PageText[],
  { letter, recipient }: { readonly letter: Letter; readonly recipient: Recipient | null },
): Reason[] {
  const first = pages[0];
  if (!recipient || !first) return [];
  const wanted = tokensOf([recipient.name, ...recipient.address].join(" "));
  const place = letter.addressWindow === "none" ? undefined : WINDOWS[letter.addressWindow];
  if (!place) {
    return holdsTokens(tokensOf(textOf(first.runs)), wanted)
      ? []
      : [reason("address-differs", undefined, "page 1")];
  }
  const left = mm(place.leftMm);
  const top = mm(place.topMm);
  const right = left + mm(place.widthMm);
  const bottom = top + mm(place.heightMm);
  const hasWords = (run: TextRun) => tokensOf(run.text).length > 0 && !run.turned;
  const touching = first.runs.filter(
    (r) =>
      hasWords(r) &&
      r.left < right - SLACK &&
      r.right > left + SLACK &&
      r.top < bottom - SLACK &&
      r.bottom > top + SLACK,
  );
  const shown = touching.flatMap((r) => tokensOf(r.text));
  const whole = touching.every(
    (r) => r.left >= left - SLACK && r.right <= right + SLACK && r.bottom <= bottom + SLACK,
  );
  return whole && shown.join("") === wanted.join("") ? [] : [reason("address-differs", undefined, "page 1")];
}

/** Every page is a whole sheet of the letter's paper, the right way up. */
export function sheetFaults(pages: readonly PageText[], { paper }: Pick<Letter, "paper">): Reason[] {
  const sheet = SHEETS[paper];
  const isOff = (a: number, b: number) => Math.abs(a - b) > SLACK / 2;
  return pages.flatMap((page, index) => {
    const isCut =
      isOff(page.width, mm(sheet.widthMm)) || isOff(page.height, mm(sheet.heightMm)) || page.isMoved;
    const where = `page ${index + 1}`;
    return [
      ...(page.rotation % 360 !== 0 ? [reason("page-turned", undefined, where)] : []),
      ...(isCut ? [reason("page-cut", undefined, where)] : []),
    ];
  });
}

/** Text beyond the edge of the paper, the draft mark apart. Lines and areas of drawings are not looked at. */
export function clippedFaults(pages: readonly PageText[]): Reason[] {
  return pages.flatMap((page, index) => {
    const isOut = (r: TextRun) =>
      r.left < -SLACK || r.right > page.width + SLACK || r.top < -SLACK || r.bottom > page.height + SLACK;
    const out = page.runs.some(
      (r) => r.text.trim() !== "" && isOut(r) && r.bottom - r.top < 0.4 * page.height,
    );
    return out ? [reason("text-clipped", undefined, `page ${index + 1}`)] : [];
  });
}
