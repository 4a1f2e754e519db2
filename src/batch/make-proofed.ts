/**
 * The documents of one visit, made and read back: the one place that says what of a visit is refused, for `check` before anyone
 * prints or signs, for `letter` and for `batch`. Each fault is put at the line of the visit that can mend it.
 */
import type { Problem } from "../base/problem.js";
import type { Named } from "../clinic-folder/scan.js";
import { WINDOWS } from "../page/type/paper.js";
import { SCALES } from "../page/type/scale.js";
import { fitWindow } from "../page/type/window-fit.js";
import { placeProblems } from "../visit/read.js";
import type { Examined } from "./examine.js";
import { type MadeDocument, type MakeOptions, makeDocuments } from "./make.js";
import type { Reason } from "./outcome.js";

/** The documents that are made unless told otherwise. */
export const USUAL_DOCUMENTS: readonly string[] = ["referral-letter", "handout"];

export interface ProofedOptions extends Omit<MakeOptions, "documents" | "format"> {
  readonly documents?: readonly string[];
  readonly format?: MakeOptions["format"];
  /** Everyone another patient's name might be read in. */
  readonly people?: readonly Named[];
  /** False when the documents are not to be read back; only PDFs are. */
  readonly proof?: boolean;
}

export interface Proofed {
  readonly made: MadeDocument[];
  /** Faults by document, in their order; undefined where none was read back. */
  readonly faults: readonly (readonly Reason[])[] | undefined;
  /** All that was found, the faults among it. An error among them: the visit is refused. */
  readonly problems: Problem[];
  readonly photos: Readonly<Record<string, string>>;
}

export async function makeProofed(examined: Examined, options: ProofedOptions): Promise<Proofed> {
  const { documents = USUAL_DOCUMENTS, format = "pdf", people = [], proof = true } = options;
  const { made, problems, photos } = await makeDocuments(examined, { ...options, documents, format });
  if (!proof || format !== "pdf") return { made, faults: undefined, problems, photos };
  // Reading PDFs back takes a library that a page alone does without.
  const { proofMade } = await import("./proof/proof-made.js");
  const faults = await proofMade(made, { ...examined, ...options }, people);
  const found = [
    ...problems,
    ...made.flatMap((document, i) => (faults[i] ?? []).map((one) => faultProblem(one, document, examined))),
  ];
  return {
    made,
    faults,
    problems: found.filter((p, i) => found.findIndex((o) => isSame(p, o)) === i),
    photos,
  };
}

const isSame = (a: Problem, b: Problem): boolean =>
  a.id === b.id && a.message === b.message && a.file === b.file && a.line === b.line;

/** A fault of a finished document, at the line of the visit that can mend it. */
function faultProblem(fault: Reason, document: MadeDocument, { file, visit, places }: Examined): Problem {
  const { recipient, letter } = document;
  const where = fault.where === undefined ? "" : `${fault.where} of the ${document.kind}: `;
  const plain: Problem = { severity: "error", id: fault.id, message: `${where}${fault.message}`, file };
  if (fault.id !== "address-differs" || !recipient || letter.addressWindow === "none") return plain;
  const index = visit.sendTo.indexOf(recipient);
  const lines = [recipient.name, ...recipient.address];
  const { fits, most } = fitWindow(lines, WINDOWS[letter.addressWindow], SCALES[letter.typeSize].address);
  const [placedProblem = plain] = placeProblems(places, [
    {
      ...plain,
      path: `send_to[${index}].address`,
      message: fits
        ? plain.message
        : `the window ${letter.addressWindow} takes ${most} printed lines, and name and address need more`,
      found: `${lines.length} lines`,
      expected: `at most ${most} lines with the name, none too wide, or another address_window in the clinic file`,
    },
  ]);
  return placedProblem;
}
