/** The document around the observations: impressions, report, the printed letter, and the composition that orders them. */

import { createHash } from "node:crypto";
import { diseaseCode } from "../knowledge/disease-code.js";
import { type Coding, openCode } from "../knowledge/open-codes.js";
import type { Knowledge } from "../knowledge/schema.js";
import { assessmentOf } from "../visit/assessment.js";
import { heldImpressions } from "../visit/held.js";
import type { Keys, Terms } from "../visit/key.js";
import { PATIENT_KEYS } from "../visit/keys/patient.js";
import { SCOPE_KEYS, siteKeys } from "../visit/keys/site.js";
import { topKeys } from "../visit/keys.js";
import type { Certainty, Impression, Visit } from "../visit/visit.js";
import { type VisitWords, visitWords } from "../visit/visit-words.js";
import { termsOf } from "../visit/write.js";
import {
  type DocumentFrame,
  inWords,
  narrative,
  narrativeIn,
  type Resource,
  referTo,
  uuidOf,
} from "./fhir-parts.js";
import { keyLine, keyWords } from "./key-words.js";

type Part = Readonly<Record<string, unknown>>;

const VERIFICATION: Readonly<Record<Certainty, string>> = {
  definite: "confirmed",
  probable: "provisional",
  possible: "differential",
  excluded: "refuted",
};
/** Referral note; LOINC, from memory. */
const DOCUMENT_TYPE = {
  coding: [{ system: "http://loinc.org", code: "57133-1", display: "Referral note" }],
  text: "Referral letter",
};

/** The moment of signing where it is known to the second's offset, as FHIR asks of every time; a day has no time. */
export function momentOf({ signed }: Pick<Visit, "signed">): string | undefined {
  const match = /^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2})(:\d{2}(?:\.\d+)?)?(Z|[+-]\d{2}:\d{2})$/u.exec(
    signed?.at ?? "",
  );
  return match ? `${match[1]}${match[2] ?? ":00"}${match[3]}` : undefined;
}

/** The recorded impression; one that was excluded is told as refuted. */
export function conditionResource(
  frame: DocumentFrame,
  line: Impression,
  index: number,
  knowledge: Knowledge,
): Resource {
  const term = knowledge.disorders[line.disorder]?.term ?? line.disorder;
  const codings = codingOf(line, frame, knowledge);
  const status = (system: string, code: string) => ({
    coding: [{ system: `http://terminology.hl7.org/CodeSystem/${system}`, code }],
  });
  return {
    resourceType: "Condition",
    id: uuidOf(frame.clinic, "visit", frame.visit, `impression ${index}`),
    text: narrative(`${term}, ${line.certainty}${line.note ? `: ${line.note}` : ""}`),
    ...(line.certainty === "excluded" ? {} : { clinicalStatus: status("condition-clinical", "active") }),
    verificationStatus: status("condition-ver-status", VERIFICATION[line.certainty]),
    category: [status("condition-category", "encounter-diagnosis")],
    code: inWords(term, codings),
    subject: frame.patient,
    recordedDate: frame.date,
    recorder: frame.practitioner,
    ...(line.note ? { note: [{ text: line.note }] } : {}),
  };
}

/** ICD first, which every receiver reads, then the open list that names it more closely. */
function codingOf(
  { disorder, certainty }: Impression,
  { language }: DocumentFrame,
  knowledge: Knowledge,
): Coding[] {
  const { openCodes } = knowledge;
  const known = diseaseCode(disorder, knowledge, language);
  return [
    ...(known ? [{ system: known.system, code: known.code, display: known.title }] : []),
    ...openCode(openCodes, openCodes.disorders[disorder], { denied: certainty === "excluded" }),
  ];
}

const recordedWords = (visit: Visit, knowledge: Knowledge): string[] =>
  visit.impression.map(({ disorder, certainty, note }) => {
    const term = knowledge.disorders[disorder]?.term ?? disorder;
    return `${term}, ${certainty}${note ? `: ${note}` : ""}`;
  });

/** The examination as a report; its conclusion is the clinician's recorded impression, never a reckoned one. */
export function reportResource(
  frame: DocumentFrame,
  visit: Visit,
  results: readonly Resource[],
  knowledge: Knowledge,
): Resource {
  const recorded = recordedWords(visit, knowledge);
  const codes = heldImpressions(visit);
  return {
    resourceType: "DiagnosticReport",
    id: uuidOf(frame.clinic, "visit", frame.visit, "report"),
    text: narrative(`Dermoscopy of the scalp, ${frame.date}`, ...recorded),
    status: frame.signed ? "final" : "preliminary",
    code: inWords("Dermoscopy of the scalp"),
    subject: frame.patient,
    effectiveDateTime: frame.date,
    ...(frame.moment === undefined ? {} : { issued: frame.moment }),
    performer: [frame.practitioner, frame.organization],
    ...(results.length > 0 ? { result: results.map((r) => referTo(r.id)) } : {}),
    ...(recorded.length > 0 ? { conclusion: recorded.join("\n") } : {}),
    ...(codes.length > 0
      ? {
          conclusionCode: codes.map((line) =>
            inWords(
              knowledge.disorders[line.disorder]?.term ?? line.disorder,
              codingOf(line, frame, knowledge),
            ),
          ),
        }
      : {}),
  };
}

/** A letter as printed for one addressee. */
export interface PrintedLetter {
  readonly pdf: Uint8Array;
  readonly title: string;
  readonly language: string;
  /** Empty for a document that is addressed to nobody. */
  readonly addressee: string;
}

/** A printed letter, whole inside the resource; `index` tells the letters of one visit apart. */
export function letterResource(frame: DocumentFrame, letter: PrintedLetter, index: number): Resource {
  const to = letter.addressee === "" ? "" : `, to ${letter.addressee}`;
  const bytes = Buffer.from(letter.pdf.buffer, letter.pdf.byteOffset, letter.pdf.byteLength);
  return {
    resourceType: "DocumentReference",
    id: uuidOf(frame.clinic, "visit", frame.visit, "letter", String(index)),
    text: narrative(`${letter.title}${to}, as printed (PDF)`),
    status: "current",
    docStatus: frame.signed ? "final" : "preliminary",
    type: DOCUMENT_TYPE,
    subject: frame.patient,
    ...(frame.moment === undefined ? {} : { date: frame.moment }),
    author: [frame.practitioner],
    custodian: frame.organization,
    description: `${letter.title}${to}`,
    content: [
      {
        attachment: {
          contentType: "application/pdf",
          language: letter.language,
          data: bytes.toString("base64"),
          size: bytes.length,
          hash: createHash("sha1").update(bytes).digest("base64"),
          title: letter.title,
          creation: frame.date,
        },
      },
    ],
  };
}

export interface Sections {
  readonly impressions: readonly Resource[];
  readonly report: Resource;
  readonly sites: readonly Resource[];
  readonly measures: readonly Resource[];
  readonly tests: readonly Resource[];
  readonly letters: readonly Resource[];
}

/** The composition: what the document says, in the order a reader needs it. */
export function compositionResource(
  frame: DocumentFrame,
  visit: Visit,
  parts: Sections,
  knowledge: Knowledge,
): Resource {
  const title = `Referral letter ${visit.id}`;
  const terms = termsOf(knowledge);
  const words = visitWords(knowledge);
  const keys = topKeys(words);
  const lines = (name: "plan" | "tests", of: Keys) => visit[name].map((line) => keyLine(of, line, terms));
  const told = visit.told ? [`Told to the patient: ${visit.told}`] : [];
  const sections = [
    section("Impression", recordedWords(visit, knowledge), parts.impressions),
    section(
      "Reason and history",
      [
        visit.reason,
        ...keyWords(ABOUT, visit.patient, terms),
        ...keyWords(keys.history.keys, visit.history, terms),
        ...answered(visit.asked, terms),
      ],
      [],
    ),
    section("Examination", keyWords(keys.examination.keys, visit.examination, terms), []),
    section(
      "Dermoscopy",
      [
        ...keyWords(SCOPE_KEYS, visit.scope, terms),
        ...visit.sites.map((site) => siteWords(site, words, terms)),
      ],
      [parts.report, ...parts.sites],
    ),
    section(
      "Measurements",
      [...keyWords({ scores: keys.scores }, visit, terms), ...parts.measures.map(codeWords)],
      parts.measures,
    ),
    section("Tests", lines("tests", keys.tests.keys), parts.tests),
    section("Plan", [...lines("plan", keys.plan.keys), ...followUpWords(visit), ...told], []),
    section(
      "Sent to",
      visit.sendTo.map((to) => `${to.name}, ${to.role}${to.copy ? " (copy)" : ""}`),
      [],
    ),
    section("Letters as printed", letterWords(parts.letters), parts.letters),
  ].filter((s) => s !== undefined);
  return {
    resourceType: "Composition",
    id: uuidOf(frame.clinic, "visit", frame.visit, "composition"),
    language: frame.language,
    text: narrativeIn(frame.language, [title, ...recordedWords(visit, knowledge)]),
    identifier: {
      system: "urn:ietf:rfc:3986",
      value: `urn:uuid:${uuidOf(frame.clinic, "visit", frame.visit, "set")}`,
    },
    status: frame.signed ? "final" : "preliminary",
    type: DOCUMENT_TYPE,
    subject: frame.patient,
    date: frame.date,
    author: [frame.practitioner],
    title,
    ...(frame.signed
      ? { attester: [{ mode: "professional", time: frame.moment ?? frame.date, party: frame.practitioner }] }
      : {}),
    custodian: frame.organization,
    section: sections,
  };
}

/** Undefined for a section with nothing in it. */
function section(title: string, words: readonly string[], entries: readonly Resource[]): Part | undefined {
  const said = words.filter((w) => w.trim() !== "");
  if (said.length === 0 && entries.length === 0) return undefined;
  return {
    title,
    code: inWords(title),
    text: narrative(...(said.length > 0 ? said : [title])),
    ...(entries.length > 0 ? { entry: entries.map((r) => referTo(r.id)) } : {}),
  };
}

const letterWords = (letters: readonly Resource[]): string[] =>
  letters.map(({ description }) => String(description));

/** Of the patient, what no element of FHIR's Patient holds. */
const ABOUT = {
  phototype: PATIENT_KEYS.phototype,
  ancestry: PATIENT_KEYS.ancestry,
  pregnancy: PATIENT_KEYS.pregnancy,
};

const followUpWords = ({ followUp }: Visit): string[] =>
  followUp ? [`Next visit in ${followUp.weeks} weeks.`] : [];

/** What was asked and answered; left out, it was not asked. */
const answered = (asked: Visit["asked"], terms: Terms): string[] =>
  Object.entries(asked ?? {}).map(([id, yes]) => `Asked: ${terms.fact(id)}: ${yes ? "yes" : "no"}`);

/** A site with all that was recorded there; one where nothing was looked for says so. */
function siteWords(site: Visit["sites"][number], words: VisitWords, terms: Terms): string {
  const { site: _site, photos: _photos, ...keys } = siteKeys(words);
  const assessment = assessmentOf(site);
  const said = keyWords(keys, site, terms).join(". ");
  const state = assessment === "seen" ? "" : ` (${STATE[assessment]})`;
  return `${site.site}${state}${said ? `: ${said}` : ""}`;
}

const STATE = {
  "none seen": "nothing of what was looked for was seen",
  "counted only": "hairs were counted, no finding was looked for",
  "not assessed": "findings not assessed",
} as const;

/** The narrative of a measure, as the section repeats it. */
function codeWords(resource: Resource): string {
  const div = (resource.text as { readonly div?: string } | undefined)?.div ?? "";
  return unmarked(div.replace(/<[^>]+>/gu, ""));
}

const unmarked = (text: string): string =>
  text.replaceAll("&lt;", "<").replaceAll("&gt;", ">").replaceAll("&quot;", '"').replaceAll("&amp;", "&");
