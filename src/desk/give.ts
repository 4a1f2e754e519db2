/** A visit or its documents in a form for another program or another reader: editable letter, FHIR, a locked PDF, one file to print. */
import { readFileSync } from "node:fs";
import { hasError } from "../base/problem.js";
import { draftWords, writeDraft } from "../batch/mail-drafts.js";
import { addressees, type MadeDocument, makeDocuments } from "../batch/make.js";
import { JoinedPdf } from "../batch/print-run/join-pdf.js";
import { lettersToSend, registerReady } from "../batch/sending.js";
import { toFhir } from "../exchange/exchange.js";
import { renderDocx } from "../page/docx.js";
import { passwordFault, protectPdf } from "../page/protect.js";
import { readText } from "../visit/read.js";
import type { Desk } from "./desk.js";
import { writtenIn } from "./edit-yaml.js";
import { visitPath } from "./folder.js";
import { HttpError } from "./http-error.js";
import { ownerIn } from "./letters.js";
import { madeOf } from "./made.js";
import type { GivenFile } from "./messages.js";
import { readAtDesk } from "./read-at-desk.js";
import type { Session } from "./session.js";
import { weighText } from "./weighed.js";

/** The letter to one of its readers, to be edited, or the visit for another record system; made of the visit as it stands. */
export async function exported(
  session: Session,
  desk: Desk,
  as: "docx" | "fhir",
  reader: number,
): Promise<GivenFile> {
  const { weighed, problems } = weighText(session.text, session.path, desk);
  const { clinic } = desk.clinicOf(session.path);
  if (!weighed || !clinic || hasError(problems))
    throw new HttpError(422, "This cannot be made while there are errors.", problems);
  const { examined, change, editions } = weighed;
  const { made, problems: found } = await makeDocuments(examined, {
    knowledge: desk.knowledge,
    clinic,
    documents: ["referral-letter"],
    format: as === "docx" ? "html" : "pdf",
    ...(change ? { overrides: { change } } : {}),
    ...(editions ? { editions } : {}),
  });
  const letter = made[reader];
  if (!letter || hasError(found))
    throw new HttpError(422, "This cannot be made while there are errors.", found);
  if (as === "fhir") {
    const bundle = toFhir({
      visit: examined.visit,
      clinic,
      measures: examined.measures,
      knowledge: desk.knowledge,
      letters: made.map(({ bytes, letter: { title, language }, recipient }) => ({
        pdf: bytes,
        title,
        language,
        addressee: recipient?.name ?? "",
      })),
      assembled: new Date().toISOString(),
    });
    return {
      name: `${examined.visit.id}.fhir.json`,
      bytes: new TextEncoder().encode(`${JSON.stringify(bundle, null, 2)}\n`),
    };
  }
  return { name: nameFor(letter, "docx"), bytes: await editable(letter) };
}

async function editable({ letter }: MadeDocument): Promise<Uint8Array> {
  const { value, problems } = await renderDocx(letter);
  if (!value) throw new HttpError(422, "This cannot be written as an editable letter.", problems);
  return value;
}

const nameFor = ({ name }: MadeDocument, ending: string): string => name.replace(/\.[a-z]+$/u, `.${ending}`);

/** An e-mail draft to one reader with the letter locked, as `whorl send` makes it: signed, proofed, and not sent before. */
export async function draft(
  session: Session,
  desk: Desk,
  how: { readonly reader: number; readonly password: string; readonly again: boolean },
): Promise<GivenFile> {
  const fault = passwordFault(how.password);
  if (fault !== undefined) throw new HttpError(422, fault);
  const { visits, people } = desk.folderLook.now();
  const { clinics, registers } = desk;
  const around = { visits, people, clinics, registers, reader: desk.reader() };
  const { letters, left, problems } = await lettersToSend(session.path, around, how.again);
  const wanted = addressees(readAtDesk(session.text, session.path, desk).value?.sendTo ?? [])[how.reader];
  const letter = letters.find(({ recipient }) => JSON.stringify(recipient) === JSON.stringify(wanted));
  if (hasError(problems)) throw new HttpError(422, "This letter cannot be sent.", problems);
  if (!letter)
    throw new HttpError(
      409,
      wanted && left > 0 ? "This letter was sent before." : "There is no letter to this reader.",
    );
  const words = draftWords(letter);
  if ("severity" in words) throw new HttpError(422, "There can be no e-mail to this reader.", [words]);
  const { name, bytes } = letter.document;
  const made = await writeDraft(words, { name, bytes: await protectPdf(bytes, how.password) }, new Date());
  registerReady(letter, around);
  return made;
}

/** A document that was made, locked; the password is in no file, no answer and no message. */
export async function locked(bytes: Uint8Array, name: string, password: string): Promise<GivenFile> {
  const fault = passwordFault(password);
  if (fault !== undefined) throw new HttpError(422, fault);
  return { name: name.replace(/\.pdf$/u, "-locked.pdf"), bytes: await protectPdf(bytes, password) };
}

/** The current documents of several visits as one PDF, each beginning on a sheet of its own. */
export async function queue(desk: Desk, files: readonly string[]): Promise<GivenFile> {
  const parts: Buffer[] = [];
  let position = 0;
  const sink = {
    get position() {
      return position;
    },
    write(piece: string | Uint8Array) {
      const bytes = typeof piece === "string" ? Buffer.from(piece, "latin1") : Buffer.from(piece);
      parts.push(bytes);
      position += bytes.length;
    },
  };
  const how = { order: "worklist", duplex: true, separators: false, date: desk.today() } as const;
  const joined = new JoinedPdf(sink, how);
  for (const file of files) {
    const path = visitPath(desk.folder, file);
    const text = readText(path).value ?? "";
    const documents = madeOf(path, text, ownerIn(writtenIn(text))).filter(({ current }) => current);
    if (documents.length === 0)
      throw new HttpError(409, `${file} has no documents that are as the visit is now. Make them first.`);
    for (const document of documents) {
      await joined.add(readFileSync(document.file));
      // The back of a last page stays empty, so that nobody's letter begins on another's sheet.
      if (joined.pages % 2 === 1) joined.addBlank(A4[0], A4[1]);
    }
  }
  joined.end("Print queue", "en-GB");
  return { name: `print-queue-${desk.today()}.pdf`, bytes: Buffer.concat(parts) };
}

/** Points. */
const A4 = [595.28, 841.89] as const;
