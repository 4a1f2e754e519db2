/** Everything a template may print, worked out once: the view model of all documents. Plain data; every key is always there. */
import type { Interpretation } from "../interpret/interpretation.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Change } from "../measure/change/types.js";
import type { Measures } from "../measure/types.js";
import type { Clinic } from "../visit/clinic.js";
import type { Recipient, Visit } from "../visit/visit.js";
import { type Actions, actionFacts } from "./actions.js";
import { type ChangeFacts, changeFacts, type ProgressFacts, progressFacts } from "./change-facts.js";
import type { Drawing } from "./document.js";
import { findingTerm, type SiteRow, siteRows } from "./findings-table.js";
import { type HandoutFacts, handoutFacts } from "./handout-facts.js";
import { type HistoryFacts, historyFacts, scopeText, testTexts } from "./history-facts.js";
import { letterCaveats, type MeasurementGroup, measurementGroups, sourceList } from "./measurements.js";
import { fullName, recipientSalutation, roleText, shortName } from "./people.js";
import { type Photo, type PhotoFacts, photoFacts } from "./pictures.js";
import { type ReasoningFacts, reasoningFacts } from "./reasoning-facts.js";
import { fill, type Words, writeAge, writeNumber, yearsBetween } from "./words.js";

/** Under this age a handout speaks to the parent or carer. Common practice, no source. */
const CHILD_UNDER = 16;

export interface FactsInput {
  readonly visit: Visit;
  readonly clinic: Clinic;
  readonly measures: Measures;
  readonly interpretation: Interpretation;
  readonly knowledge: Knowledge;
  readonly words: Words;
  /** Addressee of this copy; null for documents that carry no address. */
  readonly recipient: Recipient | null;
  /** Against earlier visits of this patient; null for a first visit. */
  readonly change: Change | null;
  /** Charts are added here, by name. */
  readonly drawings: Record<string, Drawing>;
  /** True when the letter's map needs the whole width. */
  readonly wideMap: boolean;
  /** Site index -> number on the scalp map. */
  readonly numberOf: (siteIndex: number) => number;
  /** True for documents whose reader is the clinician. */
  readonly forClinician: boolean;
  readonly photos: readonly Photo[];
  /** True when this copy is set in large print. */
  readonly large: boolean;
  /** True when a clinic logo is drawn. */
  readonly hasLogo: boolean;
}

export interface ImpressionFacts {
  readonly term: string;
  readonly certainty: string;
  readonly icd10: string;
  readonly note: string;
}

export interface WhyFacts {
  readonly term: string;
  readonly supports: readonly string[];
  readonly unusual: readonly string[];
  readonly about: string;
}

export interface LetterFacts extends HandoutFacts {
  readonly clinic: {
    readonly name: string;
    readonly lines: readonly string[];
    readonly phone: string;
    readonly email: string;
    readonly web: string;
    readonly logo: boolean;
    readonly emergency: readonly { readonly label: string; readonly number: string }[];
  };
  readonly clinician: {
    readonly name: string;
    readonly role: string;
    readonly qualifications: string;
    readonly registration: string;
  };
  readonly letter: {
    readonly date: string;
    readonly signed: boolean;
    readonly draft: boolean;
    /** True when this copy is set in large print. */
    readonly large: boolean;
  };
  readonly visit: { readonly id: string; readonly date: string; readonly reason: string };
  readonly recipient: {
    readonly name: string;
    readonly role: string;
    readonly lines: readonly string[];
    readonly salutation: string;
    /** Whom the letter was written to, when this is a copy for someone else. */
    readonly copyOf: string;
  };
  readonly copies: readonly { readonly name: string; readonly role: string }[];
  readonly patient: {
    readonly id: string;
    readonly fullName: string;
    readonly shortName: string;
    readonly salutation: string;
    readonly born: string;
    readonly age: string;
    readonly sex: string;
    readonly isChild: boolean;
  };
  readonly impressions: readonly ImpressionFacts[];
  readonly considered: readonly ImpressionFacts[];
  readonly actions: Actions;
  readonly followUp: { readonly weeks: number } | null;
  readonly history: HistoryFacts;
  readonly examination: readonly { readonly label: string; readonly text: string }[];
  readonly scope: string;
  readonly sites: readonly SiteRow[];
  readonly extent: readonly string[];
  /** True when the map needs the whole width of the letter. */
  readonly wideMap: boolean;
  readonly measurementTable: readonly MeasurementGroup[];
  readonly measurementNotes: readonly string[];
  /** Every measure with its source; only in documents for the clinician. */
  readonly measurements: readonly MeasurementGroup[];
  readonly why: readonly WhyFacts[];
  readonly notAssessed: readonly string[];
  readonly tests: readonly string[];
  readonly cautions: {
    readonly doctor: readonly string[];
    readonly patient: readonly string[];
    readonly clinician: readonly string[];
  };
  /** Photos in rows of two. */
  readonly photos: readonly { readonly left: PhotoFacts; readonly right: PhotoFacts | null }[];
  readonly change: ChangeFacts | null;
  readonly progress: ProgressFacts | null;
  /** Only in documents for the clinician; null elsewhere, so that no template can leak it. */
  readonly reasoning: ReasoningFacts | null;
  readonly sources: readonly { readonly number: number; readonly citation: string; readonly short: string }[];
}

/** Works out the facts of one visit for one addressee. */
export function letterFacts(input: FactsInput): LetterFacts {
  const { visit, clinic, knowledge, words, recipient, interpretation } = input;
  // A copy keeps the words of the letter; only the address in the window is the copy's own.
  const writtenTo = recipient?.copy ? (visit.sendTo.find((r) => !r.copy) ?? recipient) : recipient;
  const isChild = yearsBetween(visit.patient.born, visit.date) < CHILD_UNDER;
  const person = clinic.people[visit.seenBy];
  const sources = sourceList(words, knowledge.sources);
  const measured = input.measures.measured;
  const measurementTable = measurementGroups(words, measured, sources, "letter");
  const short = shortName(words, visit.patient, isChild);
  const sites = siteRows(words, knowledge, visit.sites, input.numberOf);
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
        percent: writeNumber(words, percent ?? 0),
      }),
    ),
    wideMap: input.wideMap,
    measurementTable,
    measurementNotes: letterCaveats(words, measured),
    measurements: input.forClinician ? measurementGroups(words, measured, sources, "all") : [],
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

function impressionFacts(input: FactsInput, keep: (certainty: string) => boolean): ImpressionFacts[] {
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
function whyFacts(input: FactsInput): WhyFacts[] {
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
