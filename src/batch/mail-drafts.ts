/** A letter to send -> an e-mail draft in the language of the letter, or why there can be none. */
import type { Problem } from "../base/problem.js";
import { fill } from "../base/text.js";
import { mailDraft } from "../exchange/mail-draft.js";
import { recipientSalutation } from "../letter/people.js";
import type { Visit } from "../visit/visit.js";
import { type LetterToSend, sendingProblem } from "./sending.js";

/** Head and body; nothing clinical stands in either. */
export interface DraftWords {
  readonly from: { readonly name: string; readonly address: string };
  readonly to: { readonly name: string; readonly address: string };
  readonly subject: string;
  readonly body: string;
}

export function draftWords({
  document,
  recipient,
  clinic,
  examined: { file, visit },
}: LetterToSend): DraftWords | Problem {
  if (namesPatient(recipient.name, visit.patient.name))
    return sendingProblem("send-names-patient", file, `the name of ${recipient.role} holds the patient's`);
  const missing = clinic.email ? (recipient.email ? undefined : recipient.name) : clinic.name;
  if (missing !== undefined || !clinic.email || !recipient.email)
    return sendingProblem("send-no-email", file, `${missing} has no e-mail address`);
  const { words } = document.pack;
  const gaps = {
    salutation: recipientSalutation(words, recipient),
    clinic: clinic.name,
    phone: clinic.phone,
    visit: document.visit,
  };
  const sign = [clinic.name, ...clinic.lines, clinic.phone].join("\n");
  return {
    from: { name: clinic.name, address: clinic.email },
    to: { name: recipient.name, address: recipient.email },
    subject: fill(words.mail.subject, gaps),
    body: `${words.mail.body.map((paragraph) => fill(paragraph, gaps)).join("\n\n")}\n${sign}\n`,
  };
}

/** The `.eml` file of a letter that was locked, and its name. */
export async function writeDraft(
  words: DraftWords,
  locked: { readonly name: string; readonly bytes: Uint8Array },
  at: Date,
): Promise<{ readonly name: string; readonly bytes: Uint8Array }> {
  const toTheSecond = new Date(Math.floor(at.getTime() / 1000) * 1000);
  const { name, bytes } = locked;
  const draft = await mailDraft({ ...words, attachment: { name, bytes }, at: toTheSecond });
  return { name: `${name.replace(/\.pdf$/u, "")}.eml`, bytes: draft };
}

/** True for `Parents of Joren Halvarsen`: every word of given and family name stands in it. */
function namesPatient(addressee: string, { given, family }: Visit["patient"]["name"]): boolean {
  const words = (name: string): readonly string[] => name.toLowerCase().match(/[\p{L}\p{M}]+/gu) ?? [];
  const there = words(addressee);
  return words(`${given} ${family}`).every((word) => there.includes(word));
}
