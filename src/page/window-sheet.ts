/** A sheet to try an envelope with: an invented address where every letter's address stands, and the edge of the window around it. */
import type { Outcome } from "../base/problem.js";
import { escapeXml } from "../base/text.js";
import type { AddressWindow, Letter, Paper } from "../letter/document.js";
import { renderPdf } from "./pdf.js";
import { WINDOWS } from "./type/paper.js";
import { SCALES } from "./type/scale.js";
import { fitWindow } from "./type/window-fit.js";

export interface WindowSheetInput {
  readonly clinic: string;
  readonly lines: readonly string[];
  readonly paper: Paper;
  readonly window: Exclude<AddressWindow, "none">;
  readonly fonts?: string;
  /** ISO date, so that equal input gives equal bytes. */
  readonly date: string;
}

/** The address takes every line that the window has room for. */
export async function windowSheet(input: WindowSheetInput): Promise<Outcome<Uint8Array>> {
  const { clinic, lines, paper, window, fonts, date } = input;
  const place = WINDOWS[window];
  const { most } = fitWindow(["one"], place, SCALES.compact.address);
  const address = ["First line of an address", ...middle(most - 2), "Last line that the window shows"];
  const letter: Letter = {
    kind: "window-sheet",
    title: "Envelope window test",
    language: "en-GB",
    paper,
    typeSize: "compact",
    addressWindow: window,
    foldMarks: true,
    windowOutline: true,
    draftMark: null,
    identifiers: `Envelope window test, ${window}`,
    confidentiality: "No patient's data.",
    pageWords: "Page {page} of {pages}",
    date,
    html: [
      `<header class="letterhead"><p><strong>${escapeXml(clinic)}</strong></p><p>${lines.map(escapeXml).join(", ")}</p></header>`,
      `<address class="window">${address.map(escapeXml).join("<br>")}</address>`,
      "<h1>Envelope window test</h1>",
      "<ol><li>Print this sheet at 100 %, not fitted to the page.</li>",
      `<li>Measure: the frame above is ${place.widthMm} mm wide and ${place.heightMm} mm high, ${place.leftMm} mm from the left edge and ${place.topMm} mm from the top.</li>`,
      `<li>Fold where the short rules stand at the left edge, at ${place.foldsMm.join(" and ")} mm.</li>`,
      "<li>Put it into the envelope and tap it to each of its four edges. Every line must show each time, and nothing but the address.</li></ol>",
      "<p>If a line is hidden, choose another window in the clinic's set-up.</p>",
    ].join("\n"),
    photos: {},
    ...(fonts === undefined ? {} : { fonts }),
  };
  const { value, problems } = await renderPdf(letter);
  return value ? { value: value.bytes, problems } : { problems };
}

const middle = (count: number): string[] =>
  Array.from({ length: Math.max(0, count) }, (_, i) => `Line ${i + 2}`);
