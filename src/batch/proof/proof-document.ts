/** One PDF and the visit it was made from -> every fault between them. What the visit records is looked for in the print, whatever a template says. */
import { localise } from "../../letter/localise.js";
import { type Reason, reason } from "../outcome.js";
import type { Spelled } from "../token-text.js";
import { addressFaults, clippedFaults, sheetFaults } from "./places.js";
import { draftFaults, footFaults, type PrintedPage, printedPages } from "./printed-pages.js";
import type { ProofInput } from "./proof-input.js";
import { readPdf } from "./read-pdf.js";
import { cautionFaults, fidelityFaults, impressionFaults, otherPatientFaults, planFaults } from "./record.js";

export type { ProofInput } from "./proof-input.js";

/** Our own two documents carry impression, plan and cautions; a clinic's own may leave them out. */
export const COMPLETE_KINDS: ReadonlySet<string> = new Set(["referral-letter", "handout"]);

/** What is wrong with the document; empty when it may be posted. Reasons hold no patient data. */
export async function proofDocument(given: ProofInput): Promise<Reason[]> {
  // Compared in the language and spelling that the document is printed in.
  const input: ProofInput = { ...given, ...localise(given.pack, given) };
  const read = await readPdf(input.bytes);
  if (!read || read.length === 0) return [reason("unreadable-pdf")];
  const pages = printedPages(read, input.letter, read.length);
  const body = pages.flatMap((page) => page.body);
  // A sentence may go on over a page end, where the numbers of the page's list items would part it.
  const running = joined(pages.map((page) => page.running));
  const complete = COMPLETE_KINDS.has(input.letter.kind);
  return unique([
    ...countFaults(input, pages),
    ...footFaults(pages, input),
    ...draftFaults(pages, input.visit.status === "draft", input.pack.words.draft),
    ...otherPatientFaults(input, pages),
    ...addressFaults(read, input),
    ...clippedFaults(read),
    ...sheetFaults(read, input.letter),
    ...(complete ? impressionFaults(input, running.words) : []),
    ...(complete ? planFaults(input, running.words) : []),
    ...(complete ? cautionFaults(input, running.words) : []),
    ...fidelityFaults(input.letter, body, running),
    ...pages.flatMap((p) =>
      p.body.length === 0 && p.isBare ? [reason("blank-page", undefined, where(p))] : [],
    ),
  ]);
}

/** What stands between the last word of a page and the first of the next is not known. */
function joined(all: readonly Spelled[]): Spelled {
  const pages = all.filter((page) => page.words.length > 0);
  return {
    words: pages.flatMap((page) => page.words),
    gaps: [
      ...pages.flatMap((page, i) => [i === 0 ? (page.gaps[0] ?? null) : null, ...page.gaps.slice(1, -1)]),
      null,
    ],
  };
}

function countFaults(input: ProofInput, pages: readonly PrintedPage[]): Reason[] {
  if (pages.length !== input.pages)
    return [reason("page-count-differs", `${pages.length} pages, ${input.pages} stated`)];
  return pages
    .filter((page) => !page.isNumbered)
    .map((page) => reason("page-count-differs", undefined, where(page)));
}

export function where(page: PrintedPage): string {
  return `page ${page.number}`;
}

function unique(faults: readonly Reason[]): Reason[] {
  const seen = new Set<string>();
  return faults.filter((f) => {
    const key = `${f.id}\n${f.message}\n${f.where ?? ""}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
