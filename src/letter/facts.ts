/** The facts of one visit for one addressee, ready for a template. */

import { fill } from "../base/text.js";
import { diseaseCode } from "../knowledge/disease-code.js";
import { yearsBetween } from "../visit/calendar.js";
import type { Clinic } from "../visit/clinic.js";
import { heldImpressions } from "../visit/held.js";
import type { Recipient, Site, Visit } from "../visit/visit.js";
import { actionFacts } from "./actions.js";
import { cautionRules } from "./caution-rules.js";
import { changeFacts, progressFacts } from "./change-facts.js";
import type { FactsInput } from "./facts-input.js";
import { findingTerm, siteRows } from "./findings-table.js";
import { handoutFacts } from "./handout-facts.js";
import { examinationFacts, historyFacts, scopeText, testFacts } from "./history-facts.js";
import {
  letterCaveats,
  measurementGroups,
  measurementTables,
  measuresOfLetter,
  sourceList,
} from "./measurements.js";
import { fullName, recipientSalutation, roleText, shortName, titledName } from "./people.js";
import { type Words, writeAge, writeRecorded } from "./phrases.js";
import { photoFacts } from "./pictures.js";
import { reasoningFacts } from "./reasoning-facts.js";
import { isSame, purposeOf, sharesInCare } from "./recipients.js";
import { recordedScores } from "./recorded-scores.js";
import { handoutChooser } from "./sentences.js";
import { signingFacts } from "./signing.js";
import type { LetterFacts } from "./variables.js";
import { daysAfter } from "./when.js";

/** From this age a child may read a part of the handout alone. Common practice, no source. */
const READS_FROM = 5;
/** Under this age a handout speaks to the parent or carer. Common practice, no source. */
export const CHILD_UNDER = 16;

/** A colleague takes in no more than this of what was not looked at. Common practice, no source. */
const MOST_NOT_ASSESSED = 3;

/** Works out the facts of one visit for one addressee. */
export function letterFacts(input: FactsInput): LetterFacts {
  const { visit, clinic, knowledge, words, recipient, interpretation } = input;
  // Only a colleague's copy names, at its head, the one the letter was written to.
  const writtenTo =
    recipient?.copy && sharesInCare(recipient) ? visit.sendTo.find((r) => !r.copy) : undefined;
  const years = yearsBetween(visit.patient.born, visit.date);
  const isChild = years < CHILD_UNDER;
  const signer = visit.status === "signed" ? (visit.signed?.by ?? visit.seenBy) : visit.seenBy;
  const person = clinic.people[signer];
  const sources = sourceList(words, knowledge.sources);
  const measured = input.measures.measured;
  const inLetter = measuresOfLetter(visit);
  const measurementFacts = measurementTables(
    measurementGroups(words, measured, sources, inLetter, (id) => findingTerm(knowledge, id)),
  );
  const short = shortName(words, visit.patient, isChild);
  const sites = siteRows(words, knowledge, visit.sites);
  const choose = handoutChooser(input);
  const { isUrgent, isClosedToDoctor, isTellable } = cautionRules(input);
  const cautionsFor = (
    reader: "doctor" | "patient" | "clinician",
    which: (id: string) => boolean = () => true,
  ) =>
    interpretation.cautions
      .filter((c) => which(c.id))
      .flatMap((c) => {
        const caution = knowledge.cautions[c.id];
        if (reader === "doctor" && isClosedToDoctor(c.id))
          return choose.sentences(caution?.doctor_after ?? []);
        const also = reader === "clinician" ? [] : (caution?.[`${reader}_also`] ?? []);
        return [caution?.[reader] ?? c[reader] ?? [], choose.sentences(also)].flat();
      });
  const cautions = {
    // What a healthy scalp rules out stands within what was looked at; the impression itself is the clinician's.
    doctor: [...healthyLimits(input), ...cautionsFor("doctor")],
    doctorFirst: cautionsFor("doctor", isUrgent),
    doctorRest: [...healthyLimits(input), ...cautionsFor("doctor", (id) => !isUrgent(id))],
    // What cannot wait stands first on the patient's sheet.
    urgent: cautionsFor("patient", (id) => isTellable(id) && isUrgent(id)),
    patient: cautionsFor("patient", (id) => isTellable(id) && !isUrgent(id)),
    clinician: cautionsFor("clinician"),
  };
  return {
    ...handoutFacts(input, sites, choose, [...cautions.urgent, ...cautions.patient]),
    clinic: clinicFacts(clinic, input.hasLogo),
    clinician: {
      name: titledName(words, person?.name ?? signer),
      role: person?.role ?? "",
      qualifications: person?.qualifications ?? "",
      registration: person?.registration ?? "",
    },
    letter: { ...signingFacts(words, visit, input.replaces), large: input.large },
    visit: {
      id: visit.id,
      date: visit.date,
      reason: visit.reason,
      seenBy: signer === visit.seenBy ? "" : (clinic.people[visit.seenBy]?.name ?? visit.seenBy),
    },
    recipient: recipientFacts(words, recipient, writtenTo, short),
    copies: visit.sendTo
      .filter((r) => !recipient || !(isSame(r, recipient) || r === writtenTo))
      .map((r) => ({ name: r.name, role: roleText(words, r.role) })),
    patient: {
      id: visit.patient.id,
      fullName: fullName(words, visit.patient),
      shortName: short,
      salutation: fill(isChild ? words.parent_salutation : words.patient_salutation, { name: short }),
      born: visit.patient.born,
      age: writeAge(words, visit.patient.born, visit.date),
      sex: words.sex[visit.patient.sex] ?? visit.patient.sex,
      isChild,
      readsOwnPart: isChild && years >= READS_FROM,
    },
    impressions: impressionFacts(input, (c) => c !== "excluded"),
    considered: impressionFacts(input, (c) => c === "excluded"),
    actions: actionFacts(words, visit, recipient, knowledge),
    followUp: visit.followUp
      ? { weeks: visit.followUp.weeks, date: daysAfter(visit.date, Math.round(visit.followUp.weeks * 7)) }
      : null,
    history: historyFacts(words, knowledge, visit),
    examination: examinationFacts(words, knowledge, visit),
    scope: scopeText(words, visit.scope),
    sites,
    extent: Object.entries(visit.extent ?? {}).map(([area, percent]) =>
      fill(words.phrases.area_lost ?? "", {
        area: words.extent[area] ?? area,
        percent: writeRecorded(words, percent ?? 0),
      }),
    ),
    recordedScores: recordedScores(words, knowledge, visit.scores, input.measures.rules),
    mapWidths: "",
    ...measurementFacts,
    measurementNotes: letterCaveats(words, measured, inLetter),
    measurements: input.forClinician
      ? measurementGroups(words, measured, sources, null, (id) => findingTerm(knowledge, id))
      : [],
    why: whyFacts(input),
    notAssessed: notAssessed(input)
      .slice(0, MOST_NOT_ASSESSED)
      .map((id) => findingTerm(knowledge, id)),
    tests: testFacts(words, visit, { since: input.cameSince ?? [], inOneSentence: true }),
    toldThem: visit.told ?? "",
    cautions,
    photos: photoFacts(input),
    change: input.change ? changeFacts(words, knowledge, input.change) : null,
    progress: input.change
      ? progressFacts(words, knowledge, input.change, sourceList(words, knowledge.sources), input.drawings)
      : null,
    reasoning: input.forClinician
      ? reasoningFacts(words, knowledge, visit, input.measures, interpretation, sources)
      : null,
    sources: sources.list(),
  };
}

export function clinicFacts(clinic: Clinic, logo: boolean): LetterFacts["clinic"] {
  const { name, lines, phone, email = "", web = "", emergency } = clinic;
  return { name, lines, phone, email, web, logo, emergency };
}

export function recipientFacts(
  words: Words,
  recipient: Recipient | null,
  writtenTo: Recipient | undefined,
  name: string,
): LetterFacts["recipient"] {
  return {
    name: recipient?.name ?? "",
    role: recipient ? roleText(words, recipient.role) : "",
    lines: recipient ? [recipient.name, ...recipient.address] : [],
    salutation: recipient ? recipientSalutation(words, recipient) : "",
    why: recipient ? fill(words.notice_why[purposeOf(recipient)] ?? "", { name }) : "",
    copyOf: writtenTo?.name ?? "",
  };
}

function impressionFacts(
  input: FactsInput,
  keep: (certainty: string) => boolean,
): LetterFacts["impressions"] {
  return input.visit.impression
    .filter((i) => keep(i.certainty))
    .map((i) => {
      const disorder = input.knowledge.disorders[i.disorder];
      const coded = diseaseCode(i.disorder, input.knowledge, input.words.language);
      return {
        term: disorder?.term ?? i.disorder,
        certainty: input.words.certainty[i.certainty] ?? i.certainty,
        icd10: coded?.code ?? "",
        icd10List: coded ? (input.words.code_lists[coded.list] ?? coded.list) : "",
        note: i.note ?? "",
      };
    });
}

/** What the clinician ticked as the ground of an impression; nothing that the engine found. */
function whyFacts(input: FactsInput): LetterFacts["why"] {
  return input.visit.impression
    .filter((i) => i.certainty !== "excluded" && (i.because ?? []).length > 0)
    .map((i) => ({
      term: input.knowledge.disorders[i.disorder]?.term ?? i.disorder,
      because: (i.because ?? []).map((id) => findingTerm(input.knowledge, id)),
    }));
}

function healthyLimits({ visit, knowledge }: FactsInput): string[] {
  return heldImpressions(visit).flatMap((i) => {
    const disorder = knowledge.disorders[i.disorder];
    return disorder?.family === "healthy" ? [disorder.letter.about] : [];
  });
}

/** Findings never assessed that are reported in what the clinician named or excluded; what the engine thinks of besides is no part of a letter. */
function notAssessed(input: FactsInput): readonly string[] {
  // Once the matter is settled, what was not looked at leads nowhere.
  if (input.visit.impression.some((i) => i.certainty === "definite")) return [];
  const recorded = input.visit.impression.flatMap((i) => input.knowledge.disorders[i.disorder] ?? []);
  if (recorded.some((d) => d.family === "healthy")) return [];
  const reported = new Set(recorded.flatMap((d) => Object.keys(d.evidence ?? {})));
  const counted = new Set(input.visit.sites.flatMap(countedFindings));
  return input.interpretation.notAssessed.filter((id) => reported.has(id) && !counted.has(id));
}

/** Findings that counts or measured shafts speak of, so that they are not said to be unassessed. */
function countedFindings(site: Site): string[] {
  const some = (key: "thin" | "vellus" | "units" | "yellowDots" | "discolouredOpenings") =>
    site.fields.some((f) => f[key] !== undefined);
  return [
    ...(some("thin") ? ["thin-hairs"] : []),
    ...(some("vellus") ? ["vellus-hairs"] : []),
    ...(some("units") ? ["single-hair-units"] : []),
    ...(some("yellowDots") ? ["yellow-dots"] : []),
    ...(some("discolouredOpenings") ? ["perifollicular-discoloration"] : []),
    ...(site.diametersUm.length > 0 ? ["diameter-variability", "thin-hairs"] : []),
  ];
}

/** Identifier line for the foot of every page. */
export function identifierLine(words: Words, visit: Visit, writeDate: (iso: string) => string): string {
  return fill(words.identifiers, {
    name: fullName(words, visit.patient),
    born: writeDate(visit.patient.born),
    id: visit.patient.id,
    date: writeDate(visit.date),
  });
}
