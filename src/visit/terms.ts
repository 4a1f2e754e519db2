/** The smallest things a visit records: the words of its closed lists, how much was seen, answers, medicines. */
import type { FactId, FindingId } from "../base/ids.js";

export const AMOUNTS = ["single", "few", "several", "many", "throughout"] as const;
/** How much of a finding one field of view shows. Counts map as: 1, 2-3, 4-9, 10 or more; throughout is a judgement. */
export type Amount = (typeof AMOUNTS)[number];

/**
 * What was recorded of one finding at one site. A finding that was not assessed has no entry at all.
 * `amount` is null when it was recorded as seen without saying how much.
 */
export type Seen =
  | { readonly state: "present"; readonly amount: Amount | null; readonly count?: FindingCount }
  | { readonly state: "absent" };

/** `count` structures in `fields` fields of view. */
export interface FindingCount {
  readonly count: number;
  readonly fields: number;
}

export interface FindingSeen {
  /** Finding id, as in knowledge/findings. */
  readonly finding: FindingId;
  readonly seen: Seen;
}

export const REGIONS = [
  "frontal hairline",
  "frontal",
  "mid-scalp",
  "vertex",
  "left temporal",
  "right temporal",
  "left parietal",
  "right parietal",
  "occipital",
  "nape",
  "left eyebrow",
  "right eyebrow",
  "whole scalp",
] as const;
/** A named region of the scalp map. `whole scalp` is for a diffuse picture with no single place. */
export type Region = (typeof REGIONS)[number];

export const SEXES = ["female", "male", "intersex", "not stated"] as const;
export type Sex = (typeof SEXES)[number];
export const PHOTOTYPES = ["I", "II", "III", "IV", "V", "VI"] as const;
export type Phototype = (typeof PHOTOTYPES)[number];
export const CERTAINTIES = ["definite", "probable", "possible", "excluded"] as const;
export type Certainty = (typeof CERTAINTIES)[number];
/** How soon a thing must be done. */
export { URGENCIES, type Urgency } from "../knowledge/urgency.js";
/** Who reads a letter, and so which kind of letter it is: one who shares in the care, or one who must know only a part. */
export const PURPOSES = ["care", "family", "school", "employer", "insurer"] as const;
export type Purpose = (typeof PURPOSES)[number];

/** Facts of the catalogue by id: true yes, false no; one left out was not asked or not looked for. */
export type Answers = Readonly<Record<FactId, boolean>>;

/** A medicine as recorded; a name alone when no more was said. */
export interface Medicine {
  readonly name: string;
  /** Weeks it had been taken at the visit. */
  readonly sinceWeeks?: number;
  /** Weeks since it was stopped. */
  readonly stoppedWeeks?: number;
  readonly for?: string;
}
