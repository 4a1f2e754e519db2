/** A small language of conditions on a visit, shared by patterns, context, activity and cautions. Data only; interpret judges it. */

import { z } from "zod";
import type { FactId, FindingId, LineId } from "../base/ids.js";

const words = z.array(z.string().min(1)).min(1);
const amount = z.enum(["single", "few", "several", "many", "throughout"]);
const oneOrMore = z.union([z.string().min(1), words]);

/** Places where `mentions` may look. */
export const MENTION_PLACES = [
  "reason",
  "notes",
  "family",
  "past",
  "medicines",
  "triggers",
  "hair_care",
  "contacts",
  "ancestry",
  "scalp",
  "eyebrows",
  "eyelashes",
  "nails",
  "skin",
  "mouth",
  "lymph_nodes",
  "body_hair",
  "site_notes",
  "test_results",
  "plan",
  "impression_notes",
] as const;
export type MentionPlace = (typeof MENTION_PLACES)[number];

export type Condition =
  | { all: Condition[] }
  | { any: Condition[] }
  | { not: Condition }
  /** At least `at_least` of the listed conditions hold. */
  | { of: Condition[]; at_least: number }
  /** One and the same site meets the condition (findings, amounts and measures are read there only). */
  | { at_one_site: Condition }
  /** Any of the findings present, in an amount between the bounds; a present finding with no amount counts as `few` for at_least and passes at_most. */
  | {
      finding: FindingId | FindingId[];
      at_least?: Amount | undefined;
      at_most?: Amount | undefined;
      in?: string[] | undefined;
    }
  /** Every one of the findings looked for and absent. */
  | { absent: FindingId | FindingId[] }
  | { not_assessed: FindingId | FindingId[] }
  | { age_under: number }
  | { age_from: number }
  | { sex: string | string[] }
  | { phototype: string[] }
  | { pregnancy: string[] }
  | { onset: string | string[] }
  | { course: string | string[] }
  | { shedding: string | string[] }
  | { duration_weeks_under: number }
  | { duration_weeks_from: number }
  /** Symptom 0-10 at or above. */
  | { symptom: "itch" | "pain" | "burning"; at_least: number }
  | { symptom: "itch" | "pain" | "burning"; at_most: number }
  /** Any word as a whole word or word beginning (`metast*`), case folded, in any of the places (when left out, all but plan, impression_notes and test_results); a word denied just before (`no`, `not`, `denies`, `without`) does not count. */
  | { mentions: string[]; in?: MentionPlace[] | undefined }
  /**
   * Any of the facts of the catalogue holds: answered yes, recorded as a sign, exposure, pattern or medicine, or told in free
   * text. An answer of no outranks words. `by` takes answers or words alone; `state: no` asks for an answer of no.
   */
  | { fact: FactId | FactId[]; state?: "yes" | "no" | undefined; by?: "answer" | "words" | undefined }
  /** Medicines of these classes are recorded, and each was stopped at least so many weeks ago. */
  | { stopped: FactId[]; weeks_from: number }
  /** A medicine of these classes was begun fewer than so many weeks ago. */
  | { begun: FactId[]; weeks_under: number }
  /** A plan line that was not declined names a medicine of these classes, and not to stop or avoid it. */
  | { planned: FactId[] }
  /** None of the questions has an answer. */
  | { not_asked: FactId | FactId[] }
  /** One of these tests of tests.yaml, of the right specimen and time, has a figure or a result; awaited or declined is none. */
  | { tested: string[] }
  /** Any of these must-not-miss lines stands open; for what documents may say. */
  | { line_open: LineId[] }
  | { pull_test: "positive" | "negative" }
  /** A recorded test whose name has one of the words and whose result has one of the words (any result when left out). */
  | { test: string[]; result?: string[] | undefined }
  /** A recorded test whose name has one of the words and whose figure is below this, in the units in which it is usually told. */
  | { test: string[]; value_below: number }
  /**
   * A recorded test whose name has one of the words and which lies outside its own laboratory's range on that side, by its figure or in its
   * words; with `times`, its figure is so many times the upper end at least.
   */
  | { test: string[]; outside: "low" | "high"; times?: number | undefined }
  /** A site examined in one of the regions. */
  | { examined: string[] }
  | { patch_recorded: boolean }
  /** A medicine stands in the history; `none` is none. */
  | { medicine_recorded: boolean }
  | { sites_from: number }
  /** A measure of that id (at any site) above or below a value. */
  | { measure: string; above: number }
  | { measure: string; below: number }
  /** A published rule of that id (in any place) worked through and met, or not met. */
  | { rule: string; met: boolean }
  /** Recorded by the clinician, not excluded; disorder ids or `family:scarring`. */
  | { impression: string | string[] }
  /** The engine's band for any of the disorders is at least this; only in cautions and activity. */
  | { band: string | string[]; at_least: "possible" | "supported" | "strongly supported" }
  /** One of these tests of tests.yaml is recorded, with a result or awaited, or a plan line that was not declined names it. */
  | { arranged: string[] }
  /** A plan line that was not declined names one of these must-not-miss lines as answered by it. */
  | { plan_answers: string[] };

type Amount = z.infer<typeof amount>;

export const conditionSchema: z.ZodType<Condition> = z.lazy(() =>
  z.union([
    z.strictObject({ all: z.array(conditionSchema).min(1) }),
    z.strictObject({ any: z.array(conditionSchema).min(1) }),
    z.strictObject({ not: conditionSchema }),
    z.strictObject({ of: z.array(conditionSchema).min(1), at_least: z.int().min(1) }),
    z.strictObject({ at_one_site: conditionSchema }),
    z.strictObject({
      finding: oneOrMore,
      at_least: amount.optional(),
      at_most: amount.optional(),
      in: words.optional(),
    }),
    z.strictObject({ absent: oneOrMore }),
    z.strictObject({ not_assessed: oneOrMore }),
    z.strictObject({ age_under: z.number() }),
    z.strictObject({ age_from: z.number() }),
    z.strictObject({ sex: oneOrMore }),
    z.strictObject({ phototype: words }),
    z.strictObject({ pregnancy: words }),
    z.strictObject({ onset: oneOrMore }),
    z.strictObject({ course: oneOrMore }),
    z.strictObject({ shedding: oneOrMore }),
    z.strictObject({ duration_weeks_under: z.number() }),
    z.strictObject({ duration_weeks_from: z.number() }),
    z.strictObject({ symptom: z.enum(["itch", "pain", "burning"]), at_least: z.number() }),
    z.strictObject({ symptom: z.enum(["itch", "pain", "burning"]), at_most: z.number() }),
    z.strictObject({ mentions: words, in: z.array(z.enum(MENTION_PLACES)).optional() }),
    z.strictObject({
      fact: oneOrMore,
      state: z.enum(["yes", "no"]).optional(),
      by: z.enum(["answer", "words"]).optional(),
    }),
    z.strictObject({ stopped: words, weeks_from: z.number().min(0) }),
    z.strictObject({ begun: words, weeks_under: z.number().min(0) }),
    z.strictObject({ planned: words }),
    z.strictObject({ not_asked: oneOrMore }),
    z.strictObject({ tested: words }),
    z.strictObject({ line_open: words }),
    z.strictObject({ pull_test: z.enum(["positive", "negative"]) }),
    z.strictObject({ test: words, result: words.optional() }),
    z.strictObject({ test: words, value_below: z.number() }),
    z.strictObject({ test: words, outside: z.enum(["low", "high"]), times: z.number().min(1).optional() }),
    z.strictObject({ examined: words }),
    z.strictObject({ patch_recorded: z.boolean() }),
    z.strictObject({ medicine_recorded: z.boolean() }),
    z.strictObject({ sites_from: z.number() }),
    z.strictObject({ measure: z.string(), above: z.number() }),
    z.strictObject({ measure: z.string(), below: z.number() }),
    z.strictObject({ rule: z.string(), met: z.boolean() }),
    z.strictObject({ impression: oneOrMore }),
    z.strictObject({ band: oneOrMore, at_least: z.enum(["possible", "supported", "strongly supported"]) }),
    z.strictObject({ arranged: words }),
    z.strictObject({ plan_answers: words }),
  ]),
);
