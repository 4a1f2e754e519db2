/** The document around the observations: impressions, report, the printed letter, and the composition that orders them. */
import { createHash } from "node:crypto";
import type { Knowledge } from "../knowledge/schema.js";
import type { Certainty, History, Impression, Visit } from "../visit/visit.js";
import { type DocumentFrame, inWords, narrative, type Resource, referTo, uuidOf } from "./fhir-parts.js";

type Part = Readonly<Record<string, unknown>>;

const ICD10 = "http://hl7.org/fhir/sid/icd-10";
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

/** A day has no time; the document is stamped with the end of it, so that it is never older than what it holds. */
export function stampOf(date: string): string {
  return `${date}T23:59:59Z`;
}

/** The recorded impression; one that was excluded is told as refuted. */
export function conditionResource(
  frame: DocumentFrame,
  line: Impression,
  index: number,
  knowledge: Knowledge,
): Resource {
  const term = knowledge.disorders[line.disorder]?.term ?? line.disorder;
  const codings = icd10Of(line.disorder, knowledge);
  const notes = [
    ...(line.note ? [line.note] : []),
    ...(knowledge.disorders[line.disorder]?.icd10.how === "memory"
      ? ["The ICD-10 code is from memory."]
      : []),
  ];
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
    code: { ...(codings.length > 0 ? { coding: codings } : {}), text: term },
    subject: frame.patient,
    recordedDate: frame.date,
    recorder: frame.practitioner,
    ...(notes.length > 0 ? { note: notes.map((text) => ({ text })) } : {}),
  };
}

function icd10Of(disorder: string, knowledge: Knowledge): Part[] {
  const icd10 = knowledge.disorders[disorder]?.icd10;
  return icd10 ? [{ system: ICD10, code: icd10.code, display: icd10.title }] : [];
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
  const codes = visit.impression.filter((i) => i.certainty !== "excluded");
  return {
    resourceType: "DiagnosticReport",
    id: uuidOf(frame.clinic, "visit", frame.visit, "report"),
    text: narrative(`Dermoscopy of the scalp, ${frame.date}`, ...recorded),
    status: frame.signed ? "final" : "preliminary",
    code: inWords("Dermoscopy of the scalp"),
    subject: frame.patient,
    effectiveDateTime: frame.date,
    issued: stampOf(frame.date),
    performer: [frame.practitioner, frame.organization],
    ...(results.length > 0 ? { result: results.map((r) => referTo(r.id)) } : {}),
    ...(recorded.length > 0 ? { conclusion: recorded.join("\n") } : {}),
    ...(codes.length > 0
      ? {
          conclusionCode: codes.map(({ disorder }) => ({
            coding: icd10Of(disorder, knowledge),
            text: knowledge.disorders[disorder]?.term ?? disorder,
          })),
        }
      : {}),
  };
}

/** The printed letter, whole inside the resource. */
export function letterResource(
  frame: DocumentFrame,
  letter: { readonly pdf: Uint8Array; readonly title: string; readonly language: string },
): Resource {
  const bytes = Buffer.from(letter.pdf.buffer, letter.pdf.byteOffset, letter.pdf.byteLength);
  return {
    resourceType: "DocumentReference",
    id: uuidOf(frame.clinic, "visit", frame.visit, "letter"),
    text: narrative(`${letter.title}, as printed (PDF)`),
    status: "current",
    docStatus: frame.signed ? "final" : "preliminary",
    type: DOCUMENT_TYPE,
    subject: frame.patient,
    date: stampOf(frame.date),
    author: [frame.practitioner],
    custodian: frame.organization,
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
  readonly letter?: Resource;
}

/** The composition: what the document says, in the order a reader needs it. */
export function compositionResource(
  frame: DocumentFrame,
  visit: Visit,
  language: string,
  parts: Sections,
  knowledge: Knowledge,
): Resource {
  const title = `Referral letter ${visit.id}`;
  const sections = [
    section("Impression", recordedWords(visit, knowledge), parts.impressions),
    section("Reason and history", [visit.reason, ...historyWords(visit.history)], []),
    section(
      "Examination",
      Object.entries(visit.examination).map(([k, v]) => `${plainKey(k)}: ${v}`),
      [],
    ),
    section("Dermoscopy", [`${visit.sites.length} sites`], [parts.report, ...parts.sites]),
    section("Measurements", [], parts.measures),
    section(
      "Tests",
      visit.tests.map((t) => t.name),
      parts.tests,
    ),
    section("Plan", planWords(visit), []),
    section(
      "Sent to",
      visit.sendTo.map((to) => `${to.name}, ${to.role}${to.copy ? " (copy)" : ""}`),
      [],
    ),
    section("Letter as printed", [], parts.letter ? [parts.letter] : []),
  ].filter((s) => s !== undefined);
  return {
    resourceType: "Composition",
    id: uuidOf(frame.clinic, "visit", frame.visit, "composition"),
    language,
    text: narrative(title, ...recordedWords(visit, knowledge)),
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
      ? { attester: [{ mode: "professional", time: frame.date, party: frame.practitioner }] }
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

function planWords(visit: Visit): string[] {
  const lines = visit.plan.map((p) => `${p.who}: ${p.action}${p.when ? ` (${p.when})` : ""}`);
  return visit.followUp ? [...lines, `Next visit in ${visit.followUp.weeks} weeks.`] : lines;
}

function historyWords(history: History): string[] {
  const lists = ["family", "past", "medicines", "allergies", "triggers", "hairCare", "contacts"] as const;
  const said = { ...history, medicines: history.medicines.map((m) => m.name) };
  const symptoms = Object.entries(history.symptoms).map(([name, score]) => `${name} ${score} of 10`);
  return [
    ...(history.durationWeeks === undefined ? [] : [`Duration: ${history.durationWeeks} weeks`]),
    ...(["onset", "course", "shedding"] as const).flatMap((key) =>
      history[key] === undefined ? [] : [`${plainKey(key)}: ${history[key]}`],
    ),
    ...(symptoms.length > 0 ? [`Symptoms: ${symptoms.join(", ")}`] : []),
    ...lists.flatMap((key) => (said[key].length > 0 ? [`${plainKey(key)}: ${said[key].join(", ")}`] : [])),
    ...(history.notes ? [history.notes] : []),
  ];
}

/** `lymphNodes` -> `Lymph nodes` */
function plainKey(key: string): string {
  const words = key.replace(/[A-Z]/gu, (letter) => ` ${letter.toLowerCase()}`);
  return words.charAt(0).toUpperCase() + words.slice(1);
}
