/** A visit file -> its letters as they may leave the clinic now: signed, proofed, the bytes that the register holds, not withdrawn. */

import { readFileSync } from "node:fs";
import { hasError, type Problem } from "../base/problem.js";
import { SENDING_PROBLEMS } from "../base/problem-table.js";
import { documentsIn, type RegisteredDocument, readerKey } from "../register/documents.js";
import { editionOf } from "../register/editions.js";
import { contentOf } from "../register/kept.js";
import { recordMade } from "../register/record.js";
import type { Clinic } from "../visit/clinic.js";
import type { Recipient, Visit } from "../visit/visit.js";
import type { Examined } from "./examine.js";
import { leaving } from "./leaving.js";
import { type MadeDocument, makeDocuments } from "./make.js";
import { type Around, prepareFile } from "./prepare.js";
import { proofMade } from "./proof/proof-made.js";

export function sendingProblem(id: keyof typeof SENDING_PROBLEMS, file: string, message: string): Problem {
  return { severity: "error", id, message, file, expected: SENDING_PROBLEMS[id].cure.replace(/\.$/u, "") };
}

export interface LetterToSend {
  readonly document: MadeDocument;
  readonly recipient: Recipient;
  readonly clinic: Clinic;
  readonly examined: Examined;
  /** True where the register does not know it yet. */
  readonly isNew: boolean;
}

export interface ToSend {
  readonly letters: readonly LetterToSend[];
  /** Letters that the register says have left already. */
  readonly left: number;
  readonly problems: readonly Problem[];
}

/** One letter for each addressee; with a problem none of the visit. `again` takes those too that were sent already. */
export async function lettersToSend(file: string, around: Around, again: boolean): Promise<ToSend> {
  const { value, clinic, problems } = prepareFile(file, around);
  const refused = (more: readonly Problem[]): ToSend => ({
    letters: [],
    left: 0,
    problems: [...problems, ...more],
  });
  if (!value || !clinic || hasError(problems)) return refused([]);
  const { examined, change, editions } = value;
  const { visit } = examined;
  if (visit.status !== "signed")
    return refused([sendingProblem("send-unsigned", file, `visit ${visit.id} is not signed`)]);
  const { knowledge } = around.reader;
  const clinicFile = around.clinics.fileOf(file);
  const { made, problems: unmade } = await makeDocuments(examined, {
    knowledge,
    clinic,
    documents: ["referral-letter"],
    format: "pdf",
    ...(clinicFile === undefined ? {} : { clinicFile }),
    ...(change ? { overrides: { change } } : {}),
    ...(editions ? { editions } : {}),
  });
  if (made.length === 0 || hasError(unmade)) return refused(unmade);
  const chosen = fromRegister(file, visit, made, around, again);
  if (chosen.problems.length > 0) return refused([...unmade, ...chosen.problems]);
  const faults = await faultsOf(examined, chosen.documents, clinic, around);
  if (faults.length > 0) return refused([...unmade, ...faults]);
  return {
    letters: chosen.documents.flatMap((document) =>
      document.recipient
        ? [{ document, recipient: document.recipient, clinic, examined, isNew: chosen.unknown.has(document) }]
        : [],
    ),
    left: chosen.left,
    problems: [...problems, ...unmade],
  };
}

/** Tells the register, where one has begun, of a letter that was written and that it does not know yet. */
export function registerReady({ document, examined, isNew }: LetterToSend, { registers }: Around): void {
  const folder = registers.begunFor(examined.file);
  const made = isNew ? leaving(examined.visit, [document], () => readFileSync(examined.file)) : undefined;
  if (folder !== undefined && made) recordMade(folder, [made], { how: "letter" });
}

/** The documents with the bytes that the register vouches for; `unknown` are those that it does not know yet. */
function fromRegister(
  file: string,
  visit: Visit,
  made: readonly MadeDocument[],
  { registers }: Around,
  again: boolean,
): { documents: MadeDocument[]; unknown: ReadonlySet<MadeDocument>; left: number; problems: Problem[] } {
  const folder = registers.begunFor(file);
  if (folder === undefined) return { documents: [...made], unknown: new Set(), left: 0, problems: [] };
  const known = documentsIn(registers.linesFor(file, visit.id));
  const documents: MadeDocument[] = [];
  const unknown = new Set<MadeDocument>();
  const problems: Problem[] = [];
  let left = 0;
  for (const document of made) {
    const last = known.findLast((one) => isOf(one, document, visit) && one.state !== "replaced");
    const name = document.recipient?.name ?? "";
    if (last?.state === "withdrawn") {
      const why = last.withdrawn?.reason ? ` (${last.withdrawn.reason})` : "";
      problems.push(sendingProblem("send-withdrawn", file, `the letter to ${name} was withdrawn${why}`));
    } else if (last?.state === "sent" && !again) left++;
    else if (!last) {
      unknown.add(document);
      documents.push(document);
    } else if (last.made.sha256 === document.sha256) documents.push(document);
    else {
      const bytes = contentOf(folder, last.made.sha256)?.bytes;
      if (bytes) documents.push({ ...document, bytes, sha256: last.made.sha256, name: last.made.name });
      else
        problems.push(
          sendingProblem("send-other-bytes", file, `the register holds another letter to ${name} than this`),
        );
    }
  }
  return { documents, unknown, left, problems };
}

function isOf({ made }: RegisteredDocument, document: MadeDocument, visit: Visit): boolean {
  const { recipient, kind } = document;
  const addressee = recipient && { name: recipient.name, role: recipient.role, copy: recipient.copy };
  return (
    made.edition === editionOf(visit) &&
    readerKey(made) === readerKey({ visit: visit.id, document: kind, addressee })
  );
}

/** Read back and held against the visit and everyone else of the clinic: never the wrong patient, the address in its window. */
async function faultsOf(
  examined: Examined,
  documents: readonly MadeDocument[],
  clinic: Clinic,
  { people, reader }: Around,
): Promise<Problem[]> {
  const { file } = examined;
  const faults = await proofMade(
    documents,
    { ...examined, clinic, knowledge: reader.knowledge },
    people.everyone(file),
  );
  return faults.flat().map(({ id, message, where }) => ({
    severity: "error",
    id,
    message: `not made ready: ${where ? `${where}: ` : ""}${message}`,
    file,
  }));
}
