/** A Visit back to the YAML of a visit file, in the order in which people write it; reading it again gives the same Visit. */
import { Document, isCollection, isMap, isSeq, type Node } from "yaml";
import type { Knowledge } from "../knowledge/schema.js";
import type { Answers, Medicine, Seen, Site, Visit } from "./visit.js";

type Plain = { [key: string]: unknown };

/** YAML text of a visit; with `knowledge`, findings and disorders are written as its terms. */
export function writeVisit(
  visit: Visit,
  knowledge?: Pick<Knowledge, "findings" | "disorders" | "facts">,
): string {
  const words: Words = {
    finding: (id) => knowledge?.findings[id]?.term ?? id.replaceAll("-", " "),
    disorder: (id) => knowledge?.disorders[id]?.term ?? id.replaceAll("-", " "),
    fact: (id) => knowledge?.facts[id]?.term ?? id.replaceAll("-", " "),
  };
  const document = new Document(visitFile(visit, words));
  if (isMap(document.contents)) {
    for (const pair of document.contents.items) setFlow(pair.value as Node, String(pair.key));
  }
  return document.toString({ lineWidth: 0, flowCollectionPadding: true });
}

interface Words {
  finding(id: string): string;
  disorder(id: string): string;
  fact(id: string): string;
}

function visitFile(visit: Visit, words: Words): Plain {
  const { patient, history, examination, scope, extent, followUp } = visit;
  return filled({
    format: visit.format,
    visit: filled({
      id: visit.id,
      date: visit.date,
      status: visit.status,
      seen_by: visit.seenBy,
      reason: visit.reason,
    }),
    patient: filled({
      id: patient.id,
      name: filled({ ...patient.name }),
      born: patient.born,
      sex: patient.sex,
      phototype: patient.phototype,
      ancestry: patient.ancestry,
      pregnancy: patient.pregnancy,
      address: list(patient.address),
      language: patient.language,
      large_print: patient.largePrint || undefined,
    }),
    send_to: list(
      visit.sendTo.map(({ role, name, address, copy, purpose }) =>
        filled({ role, name, address: list(address), copy: copy || undefined, purpose }),
      ),
    ),
    asked: answers(visit.asked, words),
    history: some({
      began: history.began
        ? some({
            when: history.began.when,
            weeks_before: history.began.weeksBefore,
            age_years: history.began.ageYears,
          })
        : undefined,
      duration_weeks: history.durationWeeks,
      onset: history.onset,
      course: history.course,
      shedding: history.shedding,
      symptoms: some({ ...history.symptoms }),
      family: list(history.family),
      past: list(history.past),
      medicines: list(history.medicines.map(medicine)),
      exposures: list((history.exposures ?? []).map(words.fact)),
      allergies: list(history.allergies),
      triggers: list(history.triggers),
      hair_care: list(history.hairCare),
      contacts: list(history.contacts),
      notes: history.notes,
    }),
    examination: some({
      pattern: list((examination.pattern ?? []).map(words.fact)),
      signs: answers(examination.signs, words),
      scalp: examination.scalp,
      eyebrows: examination.eyebrows,
      eyelashes: examination.eyelashes,
      nails: examination.nails,
      skin: examination.skin,
      mouth: examination.mouth,
      lymph_nodes: examination.lymphNodes,
      body_hair: examination.bodyHair,
    }),
    pull_test: list(
      visit.pullTest.map(({ site, pulled, cameOut, anagen }) =>
        filled({ site, pulled, came_out: cameOut, anagen }),
      ),
    ),
    scope: some({
      magnification: scope.magnification,
      light: scope.light,
      contact: scope.contact,
      field_diameter_mm: scope.fieldDiameterMm,
    }),
    sites: list(visit.sites.map((site) => siteEntry(site, words))),
    extent: extent ? filled({ ...extent }) : undefined,
    scores: some({ ...visit.scores }),
    tests: list(
      visit.tests.map(({ name, value, unit, result, date, range }) =>
        filled({ name, value, unit, result, date, range: some({ ...range }) }),
      ),
    ),
    impression: list(
      visit.impression.map(({ disorder, certainty, note, inHandout }) =>
        filled({ disorder: words.disorder(disorder), certainty, note, in_handout: inHandout }),
      ),
    ),
    plan: list(
      visit.plan.map(({ who, action, when, by, urgency, answers, declined }) =>
        filled({ who, action, when, by, urgency, answers: list(answers ?? []), declined }),
      ),
    ),
    follow_up: followUp ? { weeks: followUp.weeks } : undefined,
    told: visit.told,
    accept: list(visit.accept.map(({ id, reason }) => ({ id, reason }))),
    signed: visit.signed ? filled({ ...visit.signed }) : undefined,
  });
}

function siteEntry(site: Site, words: Words): Plain {
  const { patch } = site;
  return filled({
    site: site.site,
    at: site.at ? { x: site.at.x, y: site.at.y } : undefined,
    patch: patch
      ? filled({ length_mm: patch.lengthMm, width_mm: patch.widthMm, margin: patch.margin })
      : undefined,
    findings: some(
      Object.fromEntries(site.findings.map(({ finding, seen }) => [words.finding(finding), amount(seen)])),
    ),
    fields: list(
      site.fields.map((field) =>
        filled({
          hairs: field.hairs,
          thin: field.thin,
          vellus: field.vellus,
          units: field.units
            ? new Map(Object.entries(field.units).map(([k, n]) => [Number(k), n]))
            : undefined,
          yellow_dots: field.yellowDots,
          discoloured_openings: field.discolouredOpenings,
        }),
      ),
    ),
    diameters_um: list(site.diametersUm),
    signs: answers(site.signs, words),
    photos: list(site.photos.map(({ file, field, caption }) => filled({ file, field, caption }))),
    notes: site.notes,
  });
}

function answers(facts: Answers | undefined, words: Words): Plain | undefined {
  return some(
    Object.fromEntries(Object.entries(facts ?? {}).map(([id, yes]) => [words.fact(id), yes ? "yes" : "no"])),
  );
}

function medicine({ name, sinceWeeks, stoppedWeeks, for: why }: Medicine): string | Plain {
  if (sinceWeeks === undefined && stoppedWeeks === undefined && why === undefined) return name;
  return { name, ...filled({ since_weeks: sinceWeeks, stopped_weeks: stoppedWeeks, for: why }) };
}

function amount(seen: Seen): unknown {
  if (seen.state === "absent") return "none";
  return seen.count ? { count: seen.count.count, fields: seen.count.fields } : (seen.amount ?? "seen");
}

/** Without keys that hold nothing. */
const filled = (map: Plain): Plain =>
  Object.fromEntries(Object.entries(map).filter(([, value]) => value !== undefined && value !== ""));

/** A map, or undefined when it holds nothing. */
function some(map: Plain): Plain | undefined {
  const rest = filled(map);
  return Object.keys(rest).length > 0 ? rest : undefined;
}

const list = <T>(items: readonly T[]): readonly T[] | undefined => (items.length > 0 ? items : undefined);

/** Keys whose maps and lists stand in one line, as `{ x: 0.4, y: 0.5 }`. */
const IN_ONE_LINE = new Set([
  "name",
  "symptoms",
  "scope",
  "at",
  "patch",
  "extent",
  "follow_up",
  "address",
  "family",
  "past",
  "medicines",
  "exposures",
  "pattern",
  "answers",
  "began",
  "allergies",
  "triggers",
  "hair_care",
  "contacts",
  "diameters_um",
  "range",
  "answers",
  "signed",
]);
/** Lists whose entries each stand in one line. */
const ONE_LINE_ENTRIES = new Set(["pull_test", "fields", "photos", "tests"]);
const MOST_IN_LINE = 110;

function setFlow(node: Node | null, key: string): void {
  if (!isCollection(node)) return;
  if (IN_ONE_LINE.has(key) && fits(node)) node.flow = true;
  else if (isMap(node)) {
    for (const pair of node.items) {
      const value = pair.value as Node | null;
      if (key === "findings" && isMap(value)) value.flow = true;
      else setFlow(value, String(pair.key));
    }
  } else if (isSeq(node)) {
    for (const entry of node.items as Node[]) {
      if (ONE_LINE_ENTRIES.has(key) && isCollection(entry) && fits(entry)) entry.flow = true;
      else setFlow(entry, "");
    }
  }
}

/** One line holds it, and no text in it has lines of its own. */
function fits(node: Node): boolean {
  const text = JSON.stringify(node);
  return text.length <= MOST_IN_LINE && !text.includes("\\n");
}
