/** A letter that was sent and no longer holds -> the notice that says so to whoever got it. */
import type { Outcome } from "../base/problem.js";
import { yearsBetween } from "../visit/calendar.js";
import type { Clinic } from "../visit/clinic.js";
import type { Recipient, Visit } from "../visit/visit.js";
import type { AddressWindow, Letter } from "./document.js";
import { CHILD_UNDER, clinicFacts, identifierLine, recipientFacts } from "./facts.js";
import { fillTemplate } from "./fill-template.js";
import { confidentialityOf } from "./letter.js";
import { loadPack, type Pack, type TemplateSource } from "./pack.js";
import { fullName, roleText, shortName } from "./people.js";
import { writeDate } from "./phrases.js";
import { sharesInCare } from "./recipients.js";

/** Name of the template, and of the document in the register. */
export const WITHDRAWAL = "withdrawal";

export interface WithdrawalInput {
  /** The visit as it was signed when the letter was made. */
  readonly visit: Visit;
  readonly clinic: Clinic;
  readonly recipient: Recipient;
  /** Day that the withdrawn letter gives as its own, and that on which it was sent first. */
  readonly dated: string;
  readonly sentOn: string;
  readonly reason: string;
  /** Who withdraws it: a key of the clinic file, or a name. */
  readonly by: string;
  /** ISO day of the notice. */
  readonly on: string;
  readonly logo?: string;
}

export interface ComposedWithdrawal {
  readonly letter: Letter;
  readonly pack: Pack;
  readonly template: TemplateSource;
}

/** Says nothing of what was found: only which letter no longer holds, and why. */
export function composeWithdrawal(input: WithdrawalInput): Outcome<ComposedWithdrawal> {
  const { visit, clinic, recipient, dated, sentOn, reason, by, on, logo } = input;
  const { pack, problems } = loadPack(clinic.language, clinic.templates);
  const template = pack?.sheets[WITHDRAWAL];
  if (!pack) return { problems };
  if (!template) {
    const message = `no template for the notice "${WITHDRAWAL}" in ${clinic.language}`;
    return { problems: [{ severity: "error", id: "unknown-document", message }] };
  }
  const { words } = pack;
  const { patient } = visit;
  const person = clinic.people[by];
  const facts = {
    clinic: clinicFacts(clinic, logo !== undefined),
    recipient: recipientFacts(words, recipient, undefined, ""),
    patient: {
      // Whoever does not share in the care knows the patient by name alone.
      id: sharesInCare(recipient) ? patient.id : "",
      fullName: fullName(words, patient),
      shortName: shortName(words, patient, yearsBetween(patient.born, visit.date) < CHILD_UNDER),
      born: patient.born,
    },
    visit: { id: visit.id, date: visit.date },
    letter: { date: on, dated, sentOn, reason },
    by: { name: person?.name ?? by, role: person ? roleText(words, person.role) : "" },
  };
  const filled = fillTemplate(pack, template, facts, logo === undefined ? {} : { logo: () => logo });
  if (filled.html === undefined) return { problems: filled.problems };
  const letter: Letter = {
    kind: WITHDRAWAL,
    title: `${template.head.title} ${visit.id}`,
    language: words.language,
    paper: clinic.paper,
    typeSize: template.head.type,
    addressWindow: clinic.addressWindow as AddressWindow,
    foldMarks: clinic.foldMarks,
    draftMark: null,
    identifiers: identifierLine(words, visit, (iso) => writeDate(words, iso)),
    confidentiality: confidentialityOf(words, clinic),
    pageWords: words.page,
    date: on,
    html: filled.html,
    photos: {},
    ...(clinic.fonts === undefined ? {} : { fonts: clinic.fonts }),
  };
  return { value: { letter, pack, template }, problems };
}
