/**
 * Everything that `letter` and `batch` would refuse of a visit, told before anyone prints or signs: its documents are made and
 * read back as they would be, and each fault is put at the line of the visit, the clinic file or the template that it comes from.
 */
import type { Problem } from "../base/problem.js";
import type { Named } from "../clinic-folder/scan.js";
import type { Knowledge } from "../knowledge/schema.js";
import { WINDOWS } from "../page/type/paper.js";
import { SCALES } from "../page/type/scale.js";
import { fitWindow } from "../page/type/window-fit.js";
import type { Clinic } from "../visit/clinic.js";
import { placeProblems } from "../visit/read.js";
import type { Examined } from "./examine.js";
import { type MadeDocument, type MakeOptions, makeDocuments } from "./make.js";
import type { Reason } from "./outcome.js";
import { proofMade } from "./proof/proof-made.js";

/** The documents that `letter` and `batch` make unless told otherwise. */
export const USUAL_DOCUMENTS: readonly string[] = ["referral-letter", "handout"];

export interface TrialOptions {
  readonly knowledge: Knowledge;
  readonly clinic: Clinic;
  /** Path of the clinic file, for what stands there. */
  readonly clinicFile?: string;
  /** Everyone another patient's name might be read in. */
  readonly people?: readonly Named[];
  readonly documents?: readonly string[];
  readonly overrides?: MakeOptions["overrides"];
}

/** The problems of making and reading back; none of the bytes is kept. */
export async function tryDocuments(examined: Examined, options: TrialOptions): Promise<Problem[]> {
  const { knowledge, clinic, clinicFile, documents = USUAL_DOCUMENTS, overrides } = options;
  const { made, problems } = await makeDocuments(examined, {
    knowledge,
    clinic,
    documents,
    format: "pdf",
    ...(clinicFile === undefined ? {} : { clinicFile }),
    ...(overrides ? { overrides } : {}),
  });
  const faults = await proofMade(made, { ...examined, clinic, knowledge }, options.people ?? []);
  const found = [
    ...problems,
    ...made.flatMap((document, i) =>
      (faults[i] ?? []).map((fault) => faultProblem(fault, document, examined)),
    ),
  ];
  return found.filter((p, i) => found.findIndex((other) => isSame(p, other)) === i);
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
