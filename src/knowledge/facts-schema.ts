/** The shape of the facts catalogue, the hazard log and the table of medicines. */
import { z } from "zod";
import type { FactId, HazardId } from "../base/ids.js";
import { conditionSchema, MENTION_PLACES } from "./condition.js";
import {
  disorderId,
  evidenceRowSchema,
  factId,
  HOW,
  hazardId,
  source,
  text,
  type WithId,
} from "./evidence-schema.js";
import { URGENCIES } from "./urgency.js";

export { URGENCIES } from "./urgency.js";

export const FACT_KINDS = ["red flag", "history", "exposure", "pattern", "sign", "medicine class"] as const;
export type FactKind = (typeof FACT_KINDS)[number];

export const factSchema = z.strictObject({
  /** The trade's term; where it has none, ours. */
  term: text,
  also: z.array(text).default([]),
  kind: z.enum(FACT_KINDS),
  /** One trade sentence: what counts as a yes. */
  what: text,
  /** Plain noun phrase, as a patient would say it. */
  plain: text,
  /** The question, as it may be put to the patient or to oneself. */
  question: text.optional(),
  /** For red flags: how fast a yes matters. */
  urgency: z.enum(URGENCIES).optional(),
  /** For red flags: who must act on a yes. */
  who: text.optional(),
  /** Visits that call for the question; while unasked there, it is listed. */
  called_for: z.strictObject({ when: conditionSchema, why: text }).optional(),
  /** Ways of writing it in free text; see the reader of prose. */
  written: z.array(text).default([]),
  /**
   * Ways of writing that only hint at it, by kind of clue: clues of two kinds in one visit count as the fact left open, one alone says
   * nothing. `#id` is a clue where that fact is read from words.
   */
  hinted: z.record(text, z.array(text).min(1)).default({}),
  /** Free text that may hold it; all but the plan and the impression when left out. */
  written_in: z.array(z.enum(MENTION_PLACES)).optional(),
  /** Told of the past, or of another person, it counts as well. */
  counts: z.array(z.enum(["past", "other person"])).default([]),
  /** How often it is met, by disorder. */
  evidence: z.record(disorderId, z.array(evidenceRowSchema).min(1)).default({}),
  /** Hazards of the log that it bears on. */
  hazards: z.array(hazardId).default([]),
  source,
});

export const SEVERITIES = ["minor", "significant", "considerable", "major", "catastrophic"] as const;
export const LIKELIHOODS = ["very low", "low", "medium", "high", "very high"] as const;

export const hazardSchema = z.strictObject({
  term: text,
  /** What can happen, and to whom. */
  what: text,
  whom: text,
  /** How bad, were it to happen. */
  severity: z.enum(SEVERITIES),
  causes: z.array(text).min(1),
  controls: z.array(z.strictObject({ does: text, where: text })).min(1),
  /** How likely the harm is with the controls in place, a judgement. */
  likelihood: z.enum(LIKELIHOODS),
  left_over: text,
  /** Test files that show a control at work where a scenario of one visit cannot. */
  shown_by: z.array(text).default([]),
  source,
});

export const medicineSchema = z.strictObject({
  also: z.array(text).default([]),
  /** Facts of the kind medicine class. */
  classes: z.array(factId).default([]),
  /** It is put on the skin or into the eye too, and then counts for none of its classes. */
  on_the_skin: z.literal(true).optional(),
  /** Usual pattern of loss, in a few words. */
  loss: text.optional(),
  /** Weeks from start to loss, lowest and highest. */
  delay_weeks: z.tuple([z.number().min(0), z.number().min(0)]).optional(),
  source,
  how: z.enum(HOW),
});

/** A test that settles a must-not-miss line; see tests.yaml. */
export const closingTestSchema = z.strictObject({
  named: z.array(text).min(1),
  of: z.array(text).default([]),
  not_of: z.array(text).default([]),
  since_onset: z.boolean().default(false),
  /** Where the onset is not recorded, the most weeks it may have been taken before the visit. */
  old_weeks: z.number().min(1).default(13),
  source,
});

export type ClosingTest = Readonly<z.infer<typeof closingTestSchema>>;
export type Fact = WithId<z.infer<typeof factSchema>, FactId>;
export type Hazard = WithId<z.infer<typeof hazardSchema>, HazardId>;
export type MedicineEntry = Readonly<z.infer<typeof medicineSchema>>;
