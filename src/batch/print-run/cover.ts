/** The documents of a print run, with their pages -> an index for the secretary, as letters for the page room. */
import { escapeXml } from "../../base/text.js";
import type { Letter, Paper } from "../../letter/document.js";
import { renderPdf } from "../../page/pdf.js";
import type { ManifestDocument } from "../manifest.js";

export interface Entry {
  readonly document: ManifestDocument;
  /** Page of the print run on which it starts, from 1. */
  readonly start: number;
}

/** Rows of one part of the index; each part is set by itself, so that memory stays flat. */
const ROWS = 250;

export interface CoverFacts {
  readonly paper: Paper;
  /** ISO date. */
  readonly date: string;
  readonly duplex: boolean;
  readonly order: string;
}

/** Part `index` of the index, from 0, as PDF. Throws when it cannot be set, which is a fault of ours. */
export async function coverPart(
  entries: readonly Entry[],
  index: number,
  facts: CoverFacts,
): Promise<{ bytes: Uint8Array; pages: number }> {
  const parts = coverParts(entries.length);
  const own = entries.slice(index * ROWS, (index + 1) * ROWS);
  const { value } = await renderPdf({
    kind: "print-index",
    title: "Print run index",
    language: "en-GB",
    paper: facts.paper,
    typeSize: "compact",
    addressWindow: "none",
    foldMarks: false,
    draftMark: null,
    identifiers: parts > 1 ? `Print run index, part ${index + 1} of ${parts}` : "Print run index",
    confidentiality: "For the office only. Do not post.",
    pageWords: "Page {page} of {pages}",
    date: facts.date,
    html: html(entries, own, index, facts),
    photos: {},
  } satisfies Letter);
  if (!value) throw new Error("the index of the print run could not be set");
  return value;
}

export function coverParts(entries: number): number {
  return Math.max(1, Math.ceil(entries / ROWS));
}

function html(all: readonly Entry[], own: readonly Entry[], index: number, facts: CoverFacts): string {
  const letters = all.filter((e) => e.document.recipient).length;
  const summary =
    index > 0
      ? ""
      : `<p>${letters} letters to ${new Set(all.flatMap((e) => (e.document.recipient ? [`${e.document.recipient.name} ${e.document.recipient.postal_code}`] : []))).size} recipients and ${all.length - letters} sheets without an address, by ${escapeXml(facts.order)}. ${facts.duplex ? "Print on both sides: every document starts on a front side." : "Print on one side."} One envelope for each letter.</p>`;
  const rows = own.map(({ document: d, start }, i) =>
    [
      String(index * ROWS + i + 1),
      d.recipient ? `${d.recipient.name}${d.recipient.copy ? " (copy)" : ""}` : "no address",
      d.recipient?.postal_code ?? "",
      d.visit,
      d.document,
      d.pages === 1 ? String(start) : `${start}\u2013${start + d.pages - 1}`,
    ]
      .map((cell, column) =>
        column === 0 ? `<th scope="row">${escapeXml(cell)}</th>` : `<td>${escapeXml(cell)}</td>`,
      )
      .join(""),
  );
  const head = ["No.", "To", "Code", "Visit", "Document", "Pages"];
  if (rows.length === 0) return `<h1>Print run index</h1><p>No document is ready to be posted.</p>`;
  return `<h1>Print run index</h1>${summary}<table data-widths="26 * 50 84 80 52"><thead><tr>${head.map((h) => `<th scope="col">${h}</th>`).join("")}</tr></thead><tbody>${rows.map((r) => `<tr>${r}</tr>`).join("")}</tbody></table>`;
}

/** A sheet that stands before the letters of one recipient. */
export async function separator(label: string, facts: CoverFacts): Promise<Uint8Array> {
  const { value } = await renderPdf({
    kind: "print-separator",
    title: "Print run separator",
    language: "en-GB",
    paper: facts.paper,
    typeSize: "large",
    addressWindow: "none",
    foldMarks: false,
    draftMark: null,
    identifiers: "Print run separator",
    confidentiality: "For the office only. Do not post.",
    pageWords: "Page {page} of {pages}",
    date: facts.date,
    html: `<h1>${escapeXml(label)}</h1>`,
    photos: {},
  });
  if (!value) throw new Error("a separator of the print run could not be set");
  return value.bytes;
}
