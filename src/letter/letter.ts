/** Visit and all that was worked out from it -> a finished letter, by way of a template. */

import { hasError, type Outcome, type Problem } from "../base/problem.js";
import { fill } from "../base/text.js";
import {
  ENGLISH_MAP_WORDS,
  ENGLISH_PLAIN_MAP_WORDS,
  gradeDrawing,
  pictogram,
  planMap,
  toneOf,
} from "../diagram/diagram.js";
import type { Interpretation } from "../interpret/interpretation.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Change } from "../measure/change/types.js";
import type { Measures } from "../measure/types.js";
import { yearsBetween } from "../visit/calendar.js";
import type { Clinic } from "../visit/clinic.js";
import type { Recipient, Visit } from "../visit/visit.js";
import type { AddressWindow, Drawing, Letter, Paper } from "./document.js";
import { CHILD_UNDER, identifierLine, letterFacts } from "./facts.js";
import type { FactsInput } from "./facts-input.js";
import { type Drawings, fillTemplate, lineInTemplate } from "./fill-template.js";
import type { CameSinceLetter } from "./history-facts.js";
import { placeMap } from "./letter-map.js";
import { localise } from "./localise.js";
import { loadPack, type Pack, type TemplateSource } from "./pack.js";
import { type Words, writeDate } from "./phrases.js";
import type { Pictures } from "./pictures.js";
import { sharesInCare } from "./recipients.js";
import { respellAll } from "./spelling.js";
import type { TemplatePlace } from "./template-lines.js";
import type { LetterFacts } from "./variables.js";

export interface ComposeInput {
  readonly visit: Visit;
  readonly clinic: Clinic;
  readonly measures: Measures;
  readonly interpretation: Interpretation;
  readonly knowledge: Knowledge;
  /** Addressee of this copy, for documents that carry an address. */
  readonly recipient?: Recipient;
  /** Against earlier visits of this patient. */
  readonly change?: Change;
  /** ISO date of the letter that a later edition replaces, where the register knows it; null when this reader never had one. */
  readonly replaces?: string | null;
  /** Results that earlier letters awaited. */
  readonly cameSince?: readonly CameSinceLetter[];
  /** Logo and photos, read and made ready by the caller. */
  readonly pictures?: Pictures;
  /** Overrides of the clinic's and the patient's own choices. */
  readonly paper?: Paper;
  readonly language?: string;
  readonly largePrint?: boolean;
  readonly templates?: string;
}

/** Names of the documents a language pack offers, such as `referral-letter`. */
export function documentKinds(pack: Pack): string[] {
  return Object.keys(pack.documents).sort();
}

/** The pack a visit's document is written in: a letter follows the clinic, a handout follows the patient. */
export function packFor(kind: string, input: ComposeInput): { pack?: Pack; problems: Problem[] } {
  const own = input.templates ?? input.clinic.templates;
  const patient = input.language ?? input.visit.patient.language;
  const forPatient = loadPack(patient, own);
  if (forPatient.pack?.documents[kind]?.head.reader === "patient" || !forPatient.pack) return forPatient;
  return loadPack(input.language ?? input.clinic.language, own);
}

/** What a reader outside the care gets in place of a letter to a colleague. */
const OUTSIDE_CARE = "notice";

/** The document as this reader may have it: no history and no findings outside the care. */
function forReader(pack: Pack, asked: TemplateSource, input: ComposeInput): TemplateSource {
  const outside = input.recipient && !sharesInCare(input.recipient) && asked.head.reader === "doctor";
  return (outside && asked.head.addressed && pack.documents[OUTSIDE_CARE]) || asked;
}

/** All that a document is filled from. */
interface Filling {
  readonly pack: Pack;
  readonly template: TemplateSource;
  readonly facts: LetterFacts;
  readonly drawings: Drawings;
  readonly large: boolean;
}

/**
 * Composes one document for one reader. Problems: unknown document, missing language pack, template errors (with file and
 * line), a letter without an addressee.
 */
export function composeLetter(kind: string, input: ComposeInput): Outcome<Letter> {
  const { value: filling, problems } = fillingOf(kind, input);
  if (!filling) return { problems };
  const { pack, template, facts, drawings, large } = filling;
  const { words } = pack;
  const { visit, clinic } = input;
  const filled = fillTemplate(pack, template, facts, drawings);
  if (filled.html === undefined) return { problems: filled.problems };
  const value: Letter = {
    kind: template.name,
    title: `${template.head.title} ${visit.id}`,
    language: words.language,
    paper: input.paper ?? clinic.paper ?? words.paper,
    typeSize: large ? "large" : template.head.type,
    addressWindow: template.head.addressed ? (clinic.addressWindow as AddressWindow) : "none",
    foldMarks: clinic.foldMarks && template.head.addressed,
    draftMark: visit.status === "draft" ? words.draft : null,
    identifiers: identifierLine(words, visit, (iso) => writeDate(words, iso)),
    confidentiality: confidentialityOf(words, clinic),
    pageWords: words.page,
    date: visit.date,
    html: filled.html,
    photos: input.pictures?.bytes ?? {},
    ...(input.clinic.fonts === undefined ? {} : { fonts: input.clinic.fonts }),
  };
  return { value, problems };
}

/** What the foot of every page that leaves the clinic says of who may read it. */
export function confidentialityOf(words: Words, clinic: Clinic): string {
  return fill(clinic.confidentiality ?? words.confidential, { clinic: clinic.name, phone: clinic.phone });
}

/** The place in the template that the `line`th line of the letter's HTML comes from. */
export function templatePlace(kind: string, input: ComposeInput, line: number): TemplatePlace | undefined {
  const { value } = fillingOf(kind, input);
  return value && lineInTemplate(line, value.pack, value.template, value.facts, value.drawings);
}

function fillingOf(kind: string, input: ComposeInput): Outcome<Filling> {
  const { pack, problems } = packFor(kind, input);
  if (!pack || hasError(problems)) return { problems };
  const asked = pack.documents[kind];
  const template = asked && forReader(pack, asked, input);
  if (!template) {
    const message = `unknown document "${kind}"`;
    return {
      problems: [
        { severity: "error", id: "unknown-document", message, expected: documentKinds(pack).join(", ") },
      ],
    };
  }
  const { words } = pack;
  const { visit, clinic } = input;
  const recipient = template.head.addressed
    ? (input.recipient ?? visit.sendTo.find((r) => !r.copy) ?? null)
    : null;
  if (template.head.addressed && !recipient) {
    return {
      problems: [
        {
          severity: "error",
          id: "no-recipient",
          message: "nobody to send the letter to",
          path: "send_to",
          expected: "at least one recipient",
        },
      ],
    };
  }
  const large = (input.largePrint ?? visit.patient.largePrint) && template.head.reader === "patient";
  const ageYears = yearsBetween(visit.patient.born, visit.date);
  const mapWords = words.map ?? respellAll(words.spelling, ENGLISH_MAP_WORDS);
  const mapAt = (width: number) =>
    planMap({
      sites: visit.sites,
      ...(visit.extent ? { extent: visit.extent } : {}),
      ageYears,
      words: mapWords,
      width,
      // Where the letter is set closer it shrinks with the drawing, to 8 pt.
      textSize: 9,
      // The findings table below it says what each number is.
      key: false,
    });
  const plainWords = words.plain_map ?? respellAll(words.spelling, ENGLISH_PLAIN_MAP_WORDS);
  const plainMap = () =>
    planMap({
      sites: visit.sites,
      ageYears,
      // A parent or carer reads of a child: no side is "yours".
      words: ageYears < CHILD_UNDER ? { ...plainWords, views: mapWords.views } : plainWords,
      style: "plain",
      width: 262,
      // Grows with the handout's drawings to 12 pt; the list beside it says what each number is.
      textSize: 11,
      key: false,
    });
  const logo = input.pictures?.logo;
  const drawings: Record<string, Drawing> = {
    plainMap: () => plainMap().draw().svg,
    ...(logo ? { logo: () => logo } : {}),
  };
  const factsInput: FactsInput = {
    visit,
    clinic,
    ...localise(pack, input),
    words,
    recipient,
    change: input.change ?? null,
    replaces: input.replaces,
    cameSince: input.cameSince ?? [],
    drawings,
    large,
    forClinician: template.head.reader === "clinician",
    photos: input.pictures?.photos ?? [],
    hasLogo: logo !== undefined,
  };
  const plain = letterFacts(factsInput);
  const placed = placeMap(plain, mapAt);
  drawings.map = () => placed.map.draw().svg;
  const facts = { ...plain, mapWidths: placed.widths };
  const tone = toneOf(visit.patient.phototype);
  for (const p of facts.pictured) {
    const inputs = visit.scores[p.id] ?? visit.scores[p.id.replaceAll("-", "_")];
    drawings[p.drawing] = () =>
      pictogram(p.id, p.name, undefined, tone) ?? gradeDrawing(p.id, inputs ?? {}, p.name) ?? "";
  }
  return { value: { pack, template, facts, drawings, large }, problems };
}
