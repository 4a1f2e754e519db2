/** The shape of the knowledge files. Every rule below is written so that a clinician can read and correct the YAML. */
import { z } from "zod";
import type { CautionId, DisorderId, FactId, FindingId, HazardId } from "../base/ids.js";
import { conditionSchema } from "./condition.js";
import type { EvidenceRow, WithId } from "./evidence-schema.js";
import {
  cautionId,
  disorderId,
  evidenceRowSchema,
  factId,
  findingId,
  HOW,
  id,
  lineId,
  percent,
  source,
  text,
  UNSOURCED,
} from "./evidence-schema.js";
import { type ClosingTest, type Fact, type Hazard, type MedicineEntry, URGENCIES } from "./facts-schema.js";
import type { Lessons } from "./lessons-schema.js";
import type { OpenCodes } from "./open-codes.js";
import type { Prose, ProseIndex } from "./prose-schema.js";
import { MEANING_IDS, sentenceSchema, signSchema } from "./sentence.js";
import type { Told } from "./told-schema.js";
import type { Weighing } from "./weighing-schema.js";

export { type EvidenceRow, evidenceRowSchema, HOW, UNSOURCED } from "./evidence-schema.js";
export type { ClosingTest, Fact, Hazard, MedicineEntry } from "./facts-schema.js";

export const sourceSchema = z.strictObject({
  citation: text,
  /** How the publication itself was seen. */
  access: z.enum(HOW),
  doi: text.optional(),
  pmid: text.optional(),
  /** Of a review: the studies of this list whose patients it counts as well, so that the two are never pooled. */
  covers: z.array(id).min(1).optional(),
  note: text.optional(),
});

export const findingSchema = z.strictObject({
  term: text,
  also: z.array(text).default([]),
  group: z.enum(["hair shaft", "follicular opening", "skin surface", "vessel"]),
  /** One trade sentence: what the structure is and how it looks. */
  what: text,
  /** Where or how to look for it, in a few words. */
  look: text.optional(),
  plain: z.strictObject({
    /** Plain noun phrase for the handout, such as `short hairs that are thin at the root`. */
    name: text,
    /** One plain sentence: what it is and what it may mean, calm, no blame. */
    means: text,
    /** True where the name is of one thing: "many" of it says nothing. */
    mass: z.boolean().optional(),
  }),
  /** Correlation group: findings born of one mechanism. `alone` when it shares none. */
  mechanism: id,
  /** Share of this finding's weight that counts inside its correlation group, 0-1. */
  share: z.number().min(0).max(1).default(1),
  /** False where the trade holds that a single one proves little. */
  one_alone_counts: z.boolean(),
  /** True when it goes with scarring. */
  scarring_sign: z.boolean().default(false),
  /** How often to expect it in a disorder for which no study reports it: a wide interval of our own. */
  elsewhere: z.strictObject({ percent: z.tuple([percent, percent]), basis: z.enum(UNSOURCED) }),
  notes: z.array(z.strictObject({ says: text, source })).default([]),
});

const disorderText = z.strictObject({
  /** Two or three sentences for the receiving doctor: what the impression means and what it rests on in general. */
  about: text,
  /** What must be kept in mind in primary care. */
  watch: text.optional(),
});

const named = text.refine((sentence) => sentence.includes("{name}"), "needs {name}");

const patientText = z.strictObject({
  /** Name as the handout prints it. */
  name: text,
  /** How to say it, in plain syllables. */
  say: text.optional(),
  /** How sure we are of it, where the sentence that other names share reads badly; each holds {name}. */
  told: z.strictObject({ definite: named, probable: named, possible: named }).optional(),
  /** What it is: short sentences, grade 8 or lower. */
  is: z.array(sentenceSchema).min(1),
  /** What it means for the hair and for daily life. */
  means: z.array(sentenceSchema).min(1),
  /** What usually happens next (no doses, no promises). */
  next: z.array(sentenceSchema).min(1),
  /** Questions the patient may want to bring. */
  ask: z.array(sentenceSchema).min(1),
  /** When to get help, beyond the general list. */
  help: z.array(signSchema).default([]),
});

const ruleSource = { says: text, source };

export const disorderSchema = z.strictObject({
  term: text,
  also: z.array(text).default([]),
  icd10: z.strictObject({ code: text, title: text, how: z.enum(HOW), note: text.optional() }),
  family: z.enum([
    "non-scarring",
    "scarring",
    "infection",
    "infestation",
    "hair shaft",
    "scalp inflammation",
    "tumour",
    // Nothing abnormal found: an impression to record, never weighed as a disorder.
    "healthy",
  ]),
  /** How often it is met in a hair clinic, in natural-log units against a middling disorder (0). */
  base: z.strictObject({ weight: z.number().min(-4).max(3), basis: z.enum(UNSOURCED) }),
  evidence: z.record(findingId, z.array(evidenceRowSchema).min(1)).default({}),
  /** Named pictures that say more than their parts; weight in natural-log units. */
  patterns: z
    .array(z.strictObject({ id, when: conditionSchema, weight: z.number().min(-6).max(6), ...ruleSource }))
    .default([]),
  activity: z
    .array(
      z.strictObject({
        state: z.enum(["active", "stable", "long-standing", "recovering"]),
        when: conditionSchema,
        ...ruleSource,
      }),
    )
    .default([]),
  stages: z.array(z.strictObject({ stage: text, when: conditionSchema, ...ruleSource })).default([]),
  /** What else to check. */
  next: z
    .array(
      z.strictObject({
        step: text,
        kind: z.enum(["test", "examination", "history", "referral"]),
        why: text,
        source,
      }),
    )
    .default([]),
  /** Disorders it is taken for, and how to tell. */
  mimics: z.array(z.strictObject({ disorder: disorderId, tell: text, source })).default([]),
  /** Pitfalls of reading. */
  pitfalls: z.array(z.strictObject({ finding: findingId.optional(), ...ruleSource })).default([]),
  /** Caution ids that apply whenever it is the recorded impression (not excluded). */
  cautions: z.array(cautionId).default([]),
  letter: disorderText,
  patient: patientText,
});

export const cautionSchema = z.strictObject({
  term: text,
  /** True when it stands in every document for its readers. */
  always: z.boolean().default(false),
  when: conditionSchema.optional(),
  /** Raised in the interpretation under this id, with what would answer it. */
  must_not_miss: z
    .strictObject({
      id: lineId,
      why: text,
      /** How fast, and how much faster where more is known. */
      urgency: z.enum(URGENCIES),
      faster: z.array(z.strictObject({ when: conditionSchema, urgency: z.enum(URGENCIES) })).default([]),
      /** Who must act. */
      who: text,
      /** Tests with a result that close it. */
      tested: conditionSchema.optional(),
      /** Facts whose answers of no, all of them, close what words or an unasked question raised. */
      answers: z.array(factId).default([]),
      /** Words of a plan line that may answer it; they close nothing and earn the question whether it does. */
      plan_words: z.array(text).default([]),
    })
    .optional(),
  /** Plan lines that go against the caution. */
  contradicted_by: z.strictObject({ when: conditionSchema, says: text }).optional(),
  doctor: text.optional(),
  patient: text.optional(),
  clinician: text.optional(),
  /** The patient's text asks for what a settled line no longer needs, so it is said only while the line is unsettled. */
  patient_while_open: z.boolean().optional(),
  /** Further sentences, each where it is true. */
  doctor_also: z.array(sentenceSchema).optional(),
  /** What a colleague should still know once the line is closed; `doctor` and `doctor_also` ask, so they are said while it is open. */
  doctor_after: z.array(sentenceSchema).optional(),
  patient_also: z.array(sentenceSchema).optional(),
  /** What the patient's text tells, so that nothing beside it contradicts it. */
  patient_tells: z.array(z.enum(MEANING_IDS)).optional(),
  source,
});

/** The parts of a caution that are lists of sentences. */
export const CAUTION_SENTENCES = ["doctor_also", "doctor_after", "patient_also"] as const;

export const contextRuleSchema = z.strictObject({
  id,
  when: conditionSchema,
  /** Natural-log weights by disorder id or `family:` name. */
  shifts: z.record(z.string(), z.number().min(-9).max(9)),
  ...ruleSource,
});

const recordedInputSchema = z.strictObject({
  /** Printed name, where a score has several such inputs. */
  term: text.optional(),
  unit: z.string().default(""),
  ucum: z.string().default("{score}"),
  places: z.int().min(0).max(2).default(0),
  /** A smaller difference between two visits is error of measuring. */
  real_from: z.number().gt(0).optional(),
  /** The handout's words: a name, and what each number means to a patient. */
  plain: z
    .strictObject({
      name: text,
      choices: z.record(z.string(), text).optional(),
      /** What a number of another input means in place of these words. */
      instead: z.record(z.string(), z.record(z.string(), text)).optional(),
    })
    .optional(),
});

export const scoreSchema = z.looseObject({
  term: text,
  about: text,
  /** What the visit's `scores:` block may hold for it. */
  inputs: z
    .record(
      z.string().regex(/^[a-z0-9_]+$/u),
      z.strictObject({
        min: z.number(),
        max: z.number(),
        whole: z.boolean().default(true),
        says: text,
        /** A word for each number, such as the steps of a scale. */
        choices: z.record(z.string().regex(/^\d+$/u), text).optional(),
      }),
    )
    .default({}),
  /** Inputs that are measures as they stand: a grade, a distance, a total worked out elsewhere. */
  recorded: z.record(z.string(), recordedInputSchema).optional(),
  /** Its name in the handout, for a score that is worked out. */
  plain: text.optional(),
  /** What recorded inputs give, by measure id, as printed. */
  examples: z
    .array(
      z.strictObject({
        inputs: z.record(z.string(), z.number()),
        gives: z.record(z.string(), z.string()),
        from: text,
      }),
    )
    .optional(),
  source,
  how: z.enum(HOW),
});

export const regionSchema = z.strictObject({
  /** Plain words for the handout, such as `the crown of your head`. */
  plain: text,
  also: z.array(text).default([]),
});

/** A code of a national list, with the table it was read in. */
export const listedCodeSchema = z.strictObject({ code: text, title: text, source, how: z.enum(HOW) });

export const glossarySchema = z.record(text, text);

export type Source = z.infer<typeof sourceSchema>;
export type Finding = WithId<z.infer<typeof findingSchema>, FindingId>;
export type Disorder = WithId<z.infer<typeof disorderSchema>, DisorderId>;
export type Caution = WithId<z.infer<typeof cautionSchema>, CautionId>;
export type ContextRule = z.infer<typeof contextRuleSchema>;
export type Score = WithId<z.infer<typeof scoreSchema>>;
export type RegionWords = z.infer<typeof regionSchema>;

/** All clinical knowledge, read once. Maps are plain objects keyed by id, in sorted order. */
export interface Knowledge {
  readonly sources: Readonly<Record<string, Source>>;
  readonly findings: Readonly<Record<FindingId, Finding>>;
  readonly disorders: Readonly<Record<DisorderId, Disorder>>;
  readonly facts: Readonly<Record<FactId, Fact>>;
  readonly hazards: Readonly<Record<HazardId, Hazard>>;
  /** Generic name -> what it is and does to hair. */
  readonly medicines: Readonly<Record<string, MedicineEntry>>;
  /** Tests that settle a must-not-miss line. */
  readonly tests: Readonly<Record<string, ClosingTest>>;
  readonly cautions: Readonly<Record<CautionId, Caution>>;
  /** Disorder -> its code in ICD-10-CM. */
  readonly icd10cm: Readonly<Record<DisorderId, z.infer<typeof listedCodeSchema>>>;
  /** Codes of openly licensed lists. */
  readonly openCodes: OpenCodes;
  readonly context: readonly ContextRule[];
  readonly scores: Readonly<Record<string, Score>>;
  readonly regions: Readonly<Record<string, RegionWords>>;
  /** Medical word -> plain explanation. */
  readonly glossary: Readonly<Record<string, string>>;
  /** Frequencies in healthy scalps, used as the backdrop. */
  readonly healthy: Readonly<Record<FindingId, readonly EvidenceRow[]>>;
  /** Word -> percent interval of our own for rows that give only a word. */
  readonly frequencyWords: Readonly<Record<string, readonly [number, number]>>;
  /** Factors and limits with which evidence is turned into weight. */
  readonly weighing: Weighing;
  /** What cases met before add to it. */
  readonly lessons: Lessons;
  readonly told: Told;
  /** Words by which free text denies, doubts, or speaks of the past and of others. */
  readonly prose: Prose;
  /** As the build left it; worked out when it is missing. */
  readonly readerIndex?: ProseIndex;
  /** Published reference values; see normals-schema. */
  readonly normals: Readonly<Record<string, unknown>>;
}
