/** Published cases in YAML -> visits that hold only what the report says. The format is described in README.md. */

import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { parse } from "yaml";
import { z } from "zod";
import { foldWord } from "../../src/base/nearest.js";
import { spellings } from "../../src/knowledge/load.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import type { Measures } from "../../src/measure/types.js";
import {
  type Amount,
  type FindingSeen,
  PHOTOTYPES,
  REGIONS,
  type Region,
  type Visit,
} from "../../src/visit/visit.js";
import { withoutUndefined } from "../../src/visit/without-undefined.js";

const words = z.array(z.string()).default([]);
const amount = z.enum(["seen", "single", "few", "several", "many", "throughout"]);

const caseSchema = z.strictObject({
  id: z.string(),
  source: z.string(),
  how: z.enum(["read", "abstract", "teaching"]),
  level: z.enum(["patient", "series"]),
  patient: z
    .strictObject({
      age: z.number().nullable().default(null),
      sex: z.enum(["female", "male"]).nullable().default(null),
      phototype: z.enum(PHOTOTYPES).optional(),
      ancestry: z.string().optional(),
      pregnancy: z.enum(["pregnant", "breastfeeding", "planning", "no"]).optional(),
    })
    .default({ age: null, sex: null }),
  history: z
    .strictObject({
      duration_weeks: z.number().optional(),
      onset: z.enum(["sudden", "gradual"]).optional(),
      course: z.enum(["spreading", "stable", "improving", "relapsing"]).optional(),
      shedding: z.enum(["normal", "increased", "none"]).optional(),
      symptoms: z
        .strictObject({
          itch: z.number().optional(),
          pain: z.number().optional(),
          burning: z.number().optional(),
        })
        .default({}),
      family: words,
      past: words,
      medicines: words,
      triggers: words,
      hair_care: words,
      contacts: words,
      notes: z.string().optional(),
    })
    .optional(),
  examination: z
    .strictObject({
      scalp: z.string().optional(),
      eyebrows: z.string().optional(),
      eyelashes: z.string().optional(),
      nails: z.string().optional(),
      skin: z.string().optional(),
      mouth: z.string().optional(),
      lymph_nodes: z.string().optional(),
      body_hair: z.string().optional(),
    })
    .default({}),
  pull_test: z.enum(["positive", "negative"]).optional(),
  tests: z
    .array(
      z.strictObject({
        name: z.string(),
        result: z.string().optional(),
        value: z.number().optional(),
        unit: z.string().optional(),
      }),
    )
    .default([]),
  sites: z.array(
    z.strictObject({
      site: z.string(),
      patch: z
        .strictObject({
          length_mm: z.number(),
          width_mm: z.number(),
          margin: z.enum(["sharp", "blurred"]).optional(),
        })
        .optional(),
      notes: z.string().optional(),
      findings: z.record(z.string(), amount).default({}),
    }),
  ),
  not_seen: words,
  other: words,
  confirmed: z.array(z.string()).min(1),
  confirmed_by: z.enum(["culture", "microscopy", "histology", "serology", "course", "teaching"]),
  grade: z.enum(["firm", "limited", "taught"]),
  /** Day on which a case of a round was written down. */
  encoded: z.iso.date().optional(),
  note: z.string().optional(),
});

export type PublishedCase = z.infer<typeof caseSchema>;

/** Results and lists of another form that stand in the same folder. */
const NOT_CASES: readonly string[] = ["first-sight.yaml", "ranks.yaml", "rules-for-cases.yaml"];

/** Whether a file holds cases of which the catalogue knows nothing: `outside.yaml`, and those of a round in `outside-round-N.yaml`. */
export const isOutside = (file: string) => file.startsWith("outside");

/** Files of made-up cases that only teach, so that no figure is counted on them. */
const isLesson = (file: string) => file.startsWith("lessons-");

/** The cases that only teach. */
export function readLessons(folder: string): (PublishedCase & { file: string })[] {
  return files(folder, undefined)
    .filter(isLesson)
    .flatMap((file) => readList(folder, file, caseSchema).map((c) => ({ ...c, file })));
}

/**
 * Every case of every YAML file in the folder, in order of file and place; throws with file and id on a fault of form. A round that was
 * not met yet is left out, so that nothing runs on it by the way, unless it is the one to be `met` now.
 */
export function readCases(folder: string, met?: string): (PublishedCase & { file: string })[] {
  return files(folder, met)
    .filter((f) => !isOutside(f) && !isLesson(f))
    .flatMap((file) => readList(folder, file, caseSchema).map((c) => ({ ...c, file })));
}

function files(folder: string, met: string | undefined): string[] {
  const firstSight = join(folder, "first-sight.yaml");
  const before = existsSync(firstSight) ? readFileSync(firstSight, "utf8") : "";
  const unmet = (f: string) => f.includes("round-") && f !== met && !before.includes(`file: ${f}\n`);
  return readdirSync(folder)
    .filter((f) => f.endsWith(".yaml") && !NOT_CASES.includes(f) && !unmet(f))
    .sort();
}

const outsideSchema = caseSchema
  .omit({ confirmed: true })
  .extend({ confirmed_other: z.string() })
  .transform(({ confirmed_other, ...c }) => ({ ...c, confirmed: [confirmed_other] }));

/** Cases of which the catalogue knew nothing, and healthy scalps; `confirmed` holds words and no id. Rounds as for the others. */
export function readOutside(folder: string, met?: string): (PublishedCase & { file: string })[] {
  return files(folder, met)
    .filter(isOutside)
    .flatMap((file) => readList(folder, file, outsideSchema).map((c) => ({ ...c, file })));
}

function readList<T>(folder: string, file: string, schema: z.ZodType<T>): T[] {
  const list: unknown = parse(readFileSync(join(folder, file), "utf8"));
  if (!Array.isArray(list)) throw new Error(`${file}: expected a list of cases`);
  return list.map((entry: unknown, i) => {
    const parsed = schema.safeParse(entry);
    if (!parsed.success) throw new Error(`${file}, case ${i + 1}: ${z.prettifyError(parsed.error)}`);
    return parsed.data;
  });
}

const known = new WeakMap<Knowledge, ReturnType<typeof foldedTerms>>();
const foldedTerms = ({ findings }: Knowledge) =>
  new Map([...spellings(findings)].map(([word, id]) => [foldWord(word), id]));

function termsOf(knowledge: Knowledge) {
  const terms = known.get(knowledge) ?? foldedTerms(knowledge);
  known.set(knowledge, terms);
  return terms;
}

/** The case as a visit and its measures. Unknown finding words throw, so that a slip cannot weaken a case unseen. */
export function visitOf(c: PublishedCase, knowledge: Knowledge): { visit: Visit; measures: Measures } {
  const terms = termsOf(knowledge);
  const idOf = (word: string) => {
    const id = terms.get(foldWord(word));
    if (!id) throw new Error(`${c.id}: unknown finding "${word}"`);
    return id;
  };
  const notSeen = c.not_seen.map((w): FindingSeen => ({ finding: idOf(w), seen: { state: "absent" } }));
  const sites = c.sites.map((s, i) => ({
    site: regionOf(s.site),
    ...(s.patch
      ? {
          patch: {
            lengthMm: s.patch.length_mm,
            widthMm: s.patch.width_mm,
            ...(s.patch.margin ? { margin: s.patch.margin } : {}),
          },
        }
      : {}),
    ...(s.notes ? { notes: s.notes } : {}),
    findings: [
      ...Object.entries(s.findings).map(
        ([word, how]): FindingSeen => ({
          finding: idOf(word),
          seen: { state: "present", amount: how === "seen" ? null : (how satisfies Amount) },
        }),
      ),
      ...(i === 0 ? notSeen : []),
    ],
    fields: [],
    diametersUm: [],
    photos: [],
  }));
  const h = c.history;
  const { lymph_nodes, body_hair, ...examined } = c.examination;
  const visit: Visit = {
    format: 1,
    id: c.id,
    date: "2026-01-15",
    status: "draft",
    seenBy: "reporter",
    reason: "",
    patient: {
      id: c.id,
      name: { given: "Published", family: "Case" },
      // An age that the report does not give stays unknown.
      born: c.patient.age === null ? "" : `${2025 - Math.floor(c.patient.age)}-06-15`,
      sex: c.patient.sex ?? "not stated",
      ...(c.patient.phototype ? { phototype: c.patient.phototype } : {}),
      ...(c.patient.ancestry ? { ancestry: c.patient.ancestry } : {}),
      ...(c.patient.pregnancy ? { pregnancy: c.patient.pregnancy } : {}),
      address: [],
      language: "en-GB",
      largePrint: false,
    },
    sendTo: [],
    history: {
      ...(h?.duration_weeks === undefined ? {} : { durationWeeks: h.duration_weeks }),
      ...(h?.onset ? { onset: h.onset } : {}),
      ...(h?.course ? { course: h.course } : {}),
      ...(h?.shedding ? { shedding: h.shedding } : {}),
      symptoms: withoutUndefined(h?.symptoms ?? {}),
      family: h?.family ?? [],
      past: h?.past ?? [],
      medicines: (h?.medicines ?? []).map((name) => ({ name })),
      allergies: [],
      triggers: h?.triggers ?? [],
      hairCare: h?.hair_care ?? [],
      contacts: h?.contacts ?? [],
      ...(h?.notes ? { notes: h.notes } : {}),
    },
    examination: {
      ...withoutUndefined(examined),
      ...(lymph_nodes ? { lymphNodes: lymph_nodes } : {}),
      ...(body_hair ? { bodyHair: body_hair } : {}),
    },
    pullTest: [],
    scope: {},
    sites,
    scores: {},
    tests: withoutUndefined(c.tests),
    impression: [],
    plan: [],
    accept: [],
  };
  return { visit, measures: pullMeasures(c) };
}

/** Reports give the pull test as a word and seldom as counts, so it enters as a judged rule. */
function pullMeasures(c: PublishedCase): Measures {
  if (!c.pull_test) return { measured: [], notMeasured: [], rules: [] };
  const rule = {
    id: "hair-pull-as-reported",
    term: "Hair pull test",
    met: c.pull_test === "positive",
    criteria: [],
    says: `Reported as ${c.pull_test}.`,
    source: "common practice",
    fromMemory: false,
  };
  return { measured: [], notMeasured: [], rules: [rule] };
}

/** A region of the map; a side that the report does not name is taken as the left, and no region as the whole scalp. */
function regionOf(word: string): Region {
  const folded = foldWord(word);
  const found =
    REGIONS.find((r) => foldWord(r) === folded) ?? REGIONS.find((r) => foldWord(r) === `left ${folded}`);
  if (found) return found;
  if (["scalp", "unknown", "diffuse"].includes(folded)) return "whole scalp";
  throw new Error(`unknown region "${word}"`);
}
