/** A manifest -> one PDF for the printer: index, then every document in posting order. Only the bytes that were proofed go in. */

import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { SHEETS } from "../../base/paper.js";
import { sha256 } from "../../base/sha256.js";
import { openWholeFile } from "../../files/whole-file.js";
import { sweepTemporary } from "../../files/write.js";
import type { Paper } from "../../letter/document.js";
import { mm } from "../../page/type/paper.js";
import type { Manifest, ManifestDocument } from "../manifest.js";
import { type CoverFacts, coverPart, coverParts, type Entry, separator } from "./cover.js";
import { JoinedPdf, type Sink } from "./join-pdf.js";
import type { PrintRunHow } from "./mark.js";
import { printOrder } from "./order.js";

export interface PrintRunOptions extends PrintRunHow {
  readonly file: string;
}

export interface PrintRun {
  readonly letters: number;
  readonly pages: number;
  readonly leftOut: number;
  /** Documents that were sent or withdrawn already. */
  readonly closed: number;
  readonly documents: readonly ManifestDocument[];
}

/** A document of the manifest is gone or is not the one that was made; the print run is not written. */
export class NotAsMade extends Error {
  constructor(readonly file: string) {
    super("a document is not as it was made");
  }
}

/** Writes the print run. Throws NotAsMade or NotWritten; an older print run then stays as it was. */
export async function makePrintRun(
  folder: string,
  manifest: Manifest,
  options: PrintRunOptions,
): Promise<PrintRun> {
  sweepTemporary(dirname(options.file));
  const file = openWholeFile(options.file);
  try {
    const run = await joinRun(folder, manifest, options, file);
    file.finish();
    return run;
  } finally {
    file.abandon();
  }
}

/** Hands the print run to `file`, piece by piece. Throws NotAsMade. */
export async function joinRun(
  folder: string,
  manifest: Manifest,
  options: PrintRunHow,
  file: Sink,
): Promise<PrintRun> {
  const { documents, leftOut, closed } = printOrder(manifest, options);
  const facts: CoverFacts = {
    paper: documents[0]?.paper ?? "A4",
    date: options.date,
    duplex: options.duplex,
    order: options.order.replace("-", " "),
  };
  const indexPages = await pagesOfIndex(documents, facts, options);
  const entries = placed(documents, indexPages, options);
  const { since: _moment, ...always } = options;
  // The moment is told only where it left something out: otherwise equal letters give equal bytes whenever they are joined.
  const joined = new JoinedPdf(file, closed > 0 ? options : always);
  for (let part = 0; part < coverParts(entries.length); part += 1)
    await joined.add((await coverPart(entries, part, facts)).bytes);
  evenOut(joined, facts.paper, options);
  let group = "";
  for (const { document } of entries) {
    if (options.separators && groupOf(document) !== group) {
      group = groupOf(document);
      await joined.add(await separator(labelOf(document), facts));
      evenOut(joined, facts.paper, options);
    }
    await joined.add(bytesOf(folder, document));
    evenOut(joined, document.paper, options);
  }
  joined.end("Print run", "en-GB");
  return { letters: entries.length, pages: joined.pages, leftOut, closed, documents };
}

/** The length of the index hardly depends on the page numbers in it, but it may; so it is set until it agrees with itself. */
async function pagesOfIndex(
  documents: readonly ManifestDocument[],
  facts: CoverFacts,
  options: PrintRunHow,
): Promise<number> {
  let pages = 0;
  for (let round = 0; round < 3; round += 1) {
    const entries = placed(documents, pages, options);
    let found = 0;
    for (let part = 0; part < coverParts(entries.length); part += 1)
      found += (await coverPart(entries, part, facts)).pages;
    if (found === pages) break;
    pages = found;
  }
  return pages;
}

/** Every document with the page it starts on. */
function placed(
  documents: readonly ManifestDocument[],
  indexPages: number,
  { duplex, separators }: PrintRunHow,
): Entry[] {
  const even = (pages: number) => (duplex ? pages + (pages % 2) : pages);
  let next = even(indexPages) + 1;
  let group = "";
  return documents.map((document) => {
    if (separators && groupOf(document) !== group) {
      group = groupOf(document);
      next += even(1);
    }
    const start = next;
    next += even(document.pages);
    return { document, start };
  });
}

/** With duplex, a blank back keeps the next document from starting on somebody else's sheet. */
function evenOut(joined: JoinedPdf, paper: Paper, { duplex }: PrintRunHow): void {
  if (!duplex || joined.pages % 2 === 0) return;
  const sheet = SHEETS[paper];
  joined.addBlank(mm(sheet.widthMm), mm(sheet.heightMm));
}

function groupOf({ recipient }: ManifestDocument): string {
  return recipient ? `${recipient.name}\n${recipient.postal_code}` : "no address";
}

function labelOf({ recipient }: ManifestDocument): string {
  return recipient ? recipient.name : "Sheets without an address";
}

function bytesOf(folder: string, document: ManifestDocument): Uint8Array {
  try {
    const bytes = readFileSync(join(folder, document.file));
    if (sha256(bytes) === document.sha256) return bytes;
  } catch {
    // Gone: told below.
  }
  throw new NotAsMade(document.file);
}
