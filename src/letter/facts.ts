/** The facts of one visit for one addressee, ready for a template. */
import type { Visit } from "../visit/visit.js";
import { actionFacts } from "./actions.js";
import { changeFacts, progressFacts } from "./change-facts.js";
import type { FactsInput } from "./facts-input.js";
import { findingTerm, siteRows } from "./findings-table.js";
import { handoutFacts } from "./handout-facts.js";
import { historyFacts, scopeText, testTexts } from "./history-facts.js";
import { letterCaveats, measurementGroups, measuresOfLetter, sourceList } from "./measurements.js";
import { fullName, recipientSalutation, roleText, shortName } from "./people.js";
import { photoFacts } from "./pictures.js";
import { reasoningFacts } from "./reasoning-facts.js";
import { recordedScores } from "./recorded-scores.js";
import type { LetterFacts } from "./variables.js";
import { fill, type Words, writeAge, writeRecorded, yearsBetween } from "./words.js";

/** Under this age a handout speaks to the parent or carer. Common practice, no source. */
const CHILD_UNDER = 16;

/** Works out the facts of one visit for one addressee. */
export function letterFacts(input: FactsInput): LetterFacts {
  const { visit, clinic, knowledge, words, recipient, interpretation } = input;
  // A copy keeps the words of the letter; only the address in the window is the copy's own.
  const writtenTo = recipient?.copy ? (visit.sendTo.find((r) => !r.copy) ?? recipient) : recipient;
  const isChild = yearsBetween(visit.patient.born, visit.date) < CHILD_UNDER;
  const person = clinic.people[visit.seenBy];
  const sources = sourceList(words, knowledge.sources);
  const measured = input.measures.measured;
  const inLetter = measuresOfLetter(visit);
  const measurementTable = measurementGroups(words, measured, sources, inLetter);
  const short = shortName(words, visit.patient, isChild);
  const sites = siteRows(words, knowledge, visit.sites);
  const cautionsFor = (reader: "doctor" | "patient" | "clinician") =>
    interpretation.cautions.flatMap((c) => knowledge.cautions[c.id]?.[reader] ?? c[reader] ?? []);
  return {
    ...handoutFacts(input, sites),
    clinic: {
      name: clinic.name,
      lines: clinic.lines,
      phone: clinic.phone,
      email: clinic.email ?? "",
      web: clinic.web ?? "",
      logo: input.hasLogo,
      emergency: clinic.emergency,
    },
    clinician: {
      name: person?.name ?? visit.seenBy,
      role: person?.role ?? "",
      qualifications: person?.qualifications ?? "",
      registration: person?.registration ?? "",
    },
    letter: {
      date: visit.date,
      signed: visit.status === "signed",
      draft: visit.status === "draft",
      large: input.large,
    },
    visit: { id: visit.id, date: visit.date, reason: visit.reason },
    recipient: {
      name: recipient?.name ?? "",
      role: recipient ? roleText(words, recipient.role) : "",
      lines: recipient ? [recipient.name, ...recipient.address] : [],
      salutation: writtenTo ? recipientSalutation(words, writtenTo) : "",
      copyOf: writtenTo && writtenTo !== recipient ? writtenTo.name : "",
    },
    copies: visit.sendTo
      .filter((r) => r !== recipient)
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
    },
    impressions: impressionFacts(input, (c) => c !== "excluded"),
    considered: impressionFacts(input, (c) => c === "excluded"),
    actions: actionFacts(words, visit, writtenTo),
    followUp: visit.followUp ?? null,
    history: historyFacts(words, visit),
    examination: Object.entries(visit.examination).flatMap(([key, text]) =>
      text ? [{ label: words.examination[key] ?? key, text }] : [],
    ),
    scope: scopeText(words, visit.scope),
    sites,
    extent: Object.entries(visit.extent ?? {}).map(([area, percent]) =>
      fill(words.phrases.area_lost ?? "", {
        area: words.extent[area] ?? area,
        percent: writeRecorded(words, percent ?? 0),
      }),
    ),
    recordedScores: recordedScores(words, knowledge, visit.scores, input.measures.rules),
    wideMap: input.wideMap,
    measurementTable,
    measurementNotes: letterCaveats(words, measured, inLetter),
    measurements: input.forClinician ? measurementGroups(words, measured, sources, null) : [],
    why: whyFacts(input),
    notAssessed: notAssessed(input)
      .slice(0, 6)
      .map((id) => findingTerm(knowledge, id)),
    tests: testTexts(words, visit),
    cautions: {
      doctor: cautionsFor("doctor"),
      patient: cautionsFor("patient"),
      clinician: cautionsFor("clinician"),
    },
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

function impressionFacts(
  input: FactsInput,
  keep: (certainty: string) => boolean,
): LetterFacts["impressions"] {
  return input.visit.impression
    .filter((i) => keep(i.certainty))
    .map((i) => {
      const disorder = input.knowledge.disorders[i.disorder];
      return {
        term: disorder?.term ?? i.disorder,
        certainty: input.words.certainty[i.certainty] ?? i.certainty,
        icd10: disorder?.icd10.code ?? "",
        note: i.note ?? "",
      };
    });
}

/** Findings recorded by the clinician that published series describe in the recorded impression: facts, not the engine's verdict. */
function whyFacts(input: FactsInput): LetterFacts["why"] {
  return input.visit.impression
    .filter((i) => i.certainty !== "excluded")
    .map((i) => {
      const view = input.interpretation.disorders.find((d) => d.id === i.disorder);
      const disorder = input.knowledge.disorders[i.disorder];
      const terms = (
        reasons: readonly { kind: string; id: string; state?: string; weight: number }[],
        least: number,
      ) => [
        ...new Set(
          reasons
            .filter((r) => r.kind === "finding" && r.state === "present" && Math.abs(r.weight) >= least)
            .map((r) => findingTerm(input.knowledge, r.id)),
        ),
      ];
      return {
        term: disorder?.term ?? i.disorder,
        supports: terms(view?.for ?? [], 0).slice(0, 6),
        unusual: terms(view?.against ?? [], 0.5).slice(0, 3),
        about: disorder?.letter.about ?? "",
      };
    });
}

/** Findings never assessed, those reported in the recorded impressions first; only those, when there is an impression. */
function notAssessed(input: FactsInput): readonly string[] {
  const recorded = input.visit.impression.filter((i) => i.certainty !== "excluded");
  const reported = new Set(
    recorded.flatMap((i) => Object.keys(input.knowledge.disorders[i.disorder]?.evidence ?? {})),
  );
  const bearing = input.interpretation.notAssessed.filter((id) => reported.has(id));
  return bearing.length > 0 ? bearing : input.interpretation.notAssessed;
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
