/** Documents that are to be withdrawn -> a notice for each addressee who was sent one, proofed like every letter that leaves. */
import { join } from "node:path";
import { groupBy } from "../base/group.js";
import { hasError, type Problem } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import type { Named } from "../clinic-folder/scan.js";
import { safeName } from "../files/write.js";
import type { Knowledge } from "../knowledge/schema.js";
import { composeWithdrawal, WITHDRAWAL } from "../letter/withdrawal.js";
import { renderPdf } from "../page/pdf.js";
import { type RegisteredDocument, readerKey } from "../register/documents.js";
import { contentOf } from "../register/kept.js";
import type { Addressee, RegisterLine } from "../register/line.js";
import type { Notice } from "../register/sending.js";
import type { Clinic } from "../visit/clinic.js";
import { parseVisit } from "../visit/read.js";
import type { Recipient, Visit } from "../visit/visit.js";
import { evaluateVisit } from "./examine.js";
import { readPictures } from "./pictures.js";
import { proofMade } from "./proof/proof-made.js";
import { sendingProblem } from "./sending.js";

export interface Withdrawal {
  /** Folder of the clinic. */
  readonly folder: string;
  readonly lines: readonly RegisterLine[];
  readonly by: string;
  readonly reason: string;
  /** ISO day of the notices. */
  readonly on: string;
  readonly clinic: Clinic;
  readonly knowledge: Knowledge;
  /** Everyone of the clinic, so that no notice names another patient. */
  readonly people: readonly Named[];
}

/** One for each addressee and edition, of what has left; with a problem none. What was never sent, or had no addressee, needs none. */
export async function noticesOf(
  found: readonly RegisteredDocument[],
  withdrawal: Withdrawal,
): Promise<{ notices: Notice[]; problems: Problem[] }> {
  const left = found.filter(
    ({ made, sent }) => sent.length > 0 && made.addressee !== null && made.document !== WITHDRAWAL,
  );
  const byReader = groupBy(left, ({ made }) => `${made.edition} ${readerKey({ ...made, document: "" })}`);
  const notices: Notice[] = [];
  const problems: Problem[] = [];
  for (const [first] of byReader.values()) {
    if (!first) continue;
    const { notice, problems: why } = await noticeOf(first, withdrawal);
    problems.push(...why);
    if (notice) notices.push(notice);
  }
  return hasError(problems) ? { notices: [], problems } : { notices, problems };
}

async function noticeOf(
  of: RegisteredDocument,
  withdrawal: Withdrawal,
): Promise<{ notice?: Notice; problems: Problem[] }> {
  const { folder, clinic, knowledge, people, by, reason, on } = withdrawal;
  const { made, sent } = of;
  const file = join(folder, `${made.visit}.yaml`);
  const visit = asSigned(of, withdrawal, file);
  const recipient = visit && made.addressee && recipientOf(visit, made.addressee);
  const refused = (message: string) => ({
    problems: [sendingProblem("withdrawal-not-written", file, message)],
  });
  if (!visit) return refused(`the register does not hold visit ${made.visit} as it was signed`);
  if (!recipient) return refused(`visit ${made.visit} as it was signed has no such addressee`);
  const { pictures } = readPictures(file, { ...visit, sites: [] }, clinic);
  const composed = composeWithdrawal({
    visit,
    clinic,
    recipient,
    dated: made.dated,
    sentOn: sent[0]?.on ?? "",
    by,
    reason,
    on,
    ...(pictures.logo === undefined ? {} : { logo: pictures.logo }),
  });
  if (!composed.value) return { problems: [...composed.problems] };
  const { letter, pack, template } = composed.value;
  const { value: pdf, problems } = await renderPdf(letter);
  if (!pdf) return { problems: [...problems] };
  const { bytes, pages } = pdf;
  const number = String(visit.sendTo.indexOf(recipient) + 1);
  const name = `${safeName(made.visit, WITHDRAWAL, `edition-${made.edition}`, number)}.pdf`;
  const document = {
    kind: WITHDRAWAL,
    visit: visit.id,
    patient: visit.patient.id,
    recipient,
    name,
    bytes,
    pages,
  };
  const { measures, interpretation } = evaluateVisit(visit, { knowledge });
  const faults = await proofMade(
    [{ ...document, sha256: sha256(bytes), letter, reader: template.head.reader, pack }],
    { file, visit, measures, interpretation, clinic, knowledge },
    people,
  );
  const found = faults.flat().map(({ message }) => message);
  return found.length > 0
    ? refused(found.join(" "))
    : { notice: { of, name, pages, bytes, on }, problems: [] };
}

/** The visit that the document was made of, from the content that the register kept. */
function asSigned(
  { made }: RegisteredDocument,
  { folder, lines, knowledge }: Withdrawal,
  file: string,
): Visit | undefined {
  const line = lines.findLast(
    (one) => one.kind === "signed" && one.visit === made.visit && one.seal === made.seal,
  );
  const kept = line?.kind === "signed" ? contentOf(folder, line.text) : undefined;
  return kept && parseVisit(Buffer.from(kept.bytes).toString("utf8"), file, knowledge).value;
}

function recipientOf(visit: Visit, addressee: Addressee): Recipient | undefined {
  const key = (one: Addressee) => readerKey({ visit: "", document: "", addressee: one });
  return visit.sendTo.find((one) => key(one) === key(addressee));
}
