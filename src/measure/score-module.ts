/** What every score and rule module looks like: it takes its inputs from a visit, and works them into measures. */
import type { z } from "zod";
import type { Knowledge, Score } from "../knowledge/schema.js";
import type { Region, Visit } from "../visit/visit.js";
import type { Measured, RuleResult } from "./types.js";

/** A site of the visit; left out for what concerns the whole patient. */
export interface Place {
  readonly site?: Region;
  readonly siteIndex?: number;
}

/** Inputs found in a visit at one place, or what is missing there. */
export type Collected<Inputs> =
  | (Place & { readonly inputs: Inputs })
  | (Place & { readonly missing: string; readonly id?: string; readonly term?: string });

/** A measure without what the runner adds: place, and id, term, source and standing of the score unless it gives its own. */
export type MeasuredDraft = Omit<Measured, "id" | "term" | "site" | "siteIndex" | "source" | "fromMemory"> &
  Partial<Pick<Measured, "id" | "term" | "source" | "fromMemory">>;
export type RuleDraft = Omit<RuleResult, "id" | "term" | "site" | "siteIndex" | "source" | "fromMemory"> &
  Partial<Pick<RuleResult, "id" | "term" | "source" | "fromMemory">>;

export interface Computed {
  readonly measured?: readonly MeasuredDraft[];
  readonly rules?: readonly RuleDraft[];
  /** What could not be worked although inputs were there, such as a ratio over zero. */
  readonly missing?: readonly { readonly id?: string; readonly term?: string; readonly missing: string }[];
}

/**
 * A worked example. `gives` maps a measure id (or `id.low`, `id.high`, `id.band`) to its printed digits, and a rule id
 * (or `rule.criterion`) to whether it is met.
 */
export interface Example<Inputs> {
  readonly inputs: Inputs;
  readonly gives: Readonly<Record<string, string | boolean | null | undefined>>;
  /** Where it was printed, or `arithmetic` when it only checks ours. */
  readonly from: string;
}

/** One score or rule. Its words, tables, source and standing are in knowledge/scores under the same id. */
export interface ScoreModule<Inputs extends object, Table = object> {
  readonly id: string;
  /** What the YAML file holds beyond the common keys. */
  readonly table: z.ZodType<Table>;
  /** Every place where the visit holds inputs, or part of them. Empty when the score does not apply. */
  collect(visit: Visit, table: Table, knowledge: Knowledge): readonly Collected<Inputs>[];
  compute(inputs: Inputs, table: Table, score: Score): Computed;
  readonly examples: readonly Example<Inputs>[];
}

/** Recorded inputs of a named score, under its id with hyphens or underscores; undefined when nothing was recorded. */
export function recordedInputs(visit: Visit, id: string): Readonly<Record<string, number>> | undefined {
  return visit.scores[id] ?? visit.scores[id.replaceAll("-", "_")];
}

/** The recorded inputs when every one of `keys` is there, else what is missing, else nothing. */
export function collectRecorded<K extends string>(
  visit: Visit,
  id: string,
  keys: readonly K[],
): readonly Collected<Readonly<Record<K, number>>>[] {
  const recorded = recordedInputs(visit, id);
  if (!recorded) return [];
  const lacking = keys.filter((k) => recorded[k] === undefined);
  if (lacking.length > 0) return [{ missing: lacking.map((k) => k.replaceAll("_", " ")).join(", ") }];
  return [{ inputs: recorded as Readonly<Record<K, number>> }];
}
