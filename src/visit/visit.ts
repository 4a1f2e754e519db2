/** The visit as the rest of the house sees it: checked, ids resolved, units in names. Plain data. */
import { URGENCIES, type Urgency } from "../knowledge/facts-schema.js";

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
  readonly finding: string;
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
export { URGENCIES, type Urgency };
/** Who reads a letter, and so which kind of letter it is: one who shares in the care, or one who must know only a part. */
export const PURPOSES = ["care", "family", "school", "employer", "insurer"] as const;
export type Purpose = (typeof PURPOSES)[number];

/** One counted field of view; every count is optional, since not counted is not zero. */
export interface CountedField {
  readonly hairs?: number;
  /** Hairs thinner than 0.03 mm. */
  readonly thin?: number;
  readonly vellus?: number;
  /** Follicular units by the number of hairs in each: `{ "1": 21, "2": 24 }`. */
  readonly units?: Readonly<Record<string, number>>;
  readonly yellowDots?: number;
  readonly discolouredOpenings?: number;
}

export interface Photo {
  /** As written, relative to the visit file. */
  readonly file: string;
  readonly field?: number;
  readonly caption?: string;
}

export interface Patch {
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly margin?: "sharp" | "blurred";
}

export interface Site {
  readonly site: Region;
  /** Place inside the region, 0-1 from its left and top as drawn on the map. */
  readonly at?: { readonly x: number; readonly y: number };
  readonly patch?: Patch;
  readonly findings: readonly FindingSeen[];
  readonly fields: readonly CountedField[];
  readonly diametersUm: readonly number[];
  readonly photos: readonly Photo[];
  /** Signs of the facts catalogue, by id: true seen, false looked for and not seen. */
  readonly signs?: Answers;
  readonly notes?: string;
}

export interface PullTest {
  readonly site: Region;
  readonly pulled: number;
  readonly cameOut: number;
  readonly anagen?: number;
}

export interface PersonName {
  readonly title?: string;
  readonly given: string;
  readonly family: string;
}

export interface Patient {
  readonly id: string;
  readonly name: PersonName;
  /** ISO date. */
  readonly born: string;
  readonly sex: Sex;
  readonly phototype?: Phototype;
  /** As the patient describes it; free words. */
  readonly ancestry?: string;
  readonly pregnancy?: "pregnant" | "breastfeeding" | "planning" | "no";
  readonly address: readonly string[];
  /** BCP 47 tag, default en-GB. */
  readonly language: string;
  readonly largePrint: boolean;
}

export interface Recipient {
  readonly role: string;
  readonly name: string;
  readonly address: readonly string[];
  /** True for someone who gets a copy and is not written to. */
  readonly copy: boolean;
  /** Who reads it and why; left out, the role alone says so. */
  readonly purpose?: Purpose;
}

/** Facts of the catalogue by id: true yes, false no; one left out was not asked or not looked for. */
export type Answers = Readonly<Record<string, boolean>>;

/** A medicine as recorded; a name alone when no more was said. */
export interface Medicine {
  readonly name: string;
  /** Weeks it had been taken at the visit. */
  readonly sinceWeeks?: number;
  /** Weeks since it was stopped. */
  readonly stoppedWeeks?: number;
  readonly for?: string;
}

/** When it began: at birth, some weeks before the visit, or at an age in years. */
export interface Began {
  readonly when?: "birth";
  readonly weeksBefore?: number;
  readonly ageYears?: number;
}

export interface History {
  readonly began?: Began;
  readonly durationWeeks?: number;
  readonly onset?: "sudden" | "gradual";
  readonly course?: "spreading" | "stable" | "improving" | "relapsing";
  readonly shedding?: "normal" | "increased" | "none";
  /** Each 0-10. */
  readonly symptoms: Readonly<Partial<Record<"itch" | "pain" | "burning", number>>>;
  readonly family: readonly string[];
  readonly past: readonly string[];
  readonly medicines: readonly Medicine[];
  /** Exposures of the facts catalogue, by id. */
  readonly exposures?: readonly string[];
  readonly allergies: readonly string[];
  readonly triggers: readonly string[];
  readonly hairCare: readonly string[];
  /** People or animals close by with a similar trouble. */
  readonly contacts: readonly string[];
  readonly notes?: string;
}

/** What was seen beyond the dermoscope, in free words (a key left out was not examined) and as facts of the catalogue. */
export interface Examination {
  /** Patterns of loss of the facts catalogue, by id. */
  readonly pattern?: readonly string[];
  readonly signs?: Answers;
  readonly scalp?: string;
  readonly eyebrows?: string;
  readonly eyelashes?: string;
  readonly nails?: string;
  readonly skin?: string;
  readonly mouth?: string;
  readonly lymphNodes?: string;
  readonly bodyHair?: string;
}

export interface Scope {
  readonly magnification?: number;
  readonly light?: "polarised" | "non-polarised";
  readonly contact?: "dry" | "immersion" | "contact";
  readonly fieldDiameterMm?: number;
}

/** Percent of hair lost in each of the four areas; an area left out was not estimated. */
export type Extent = Readonly<Partial<Record<"top" | "left" | "right" | "back", number>>>;

export interface Test {
  readonly name: string;
  readonly value?: number;
  readonly unit?: string;
  readonly result?: string;
  readonly date?: string;
  /** The laboratory's own range for this figure; one end may be open. */
  readonly range?: { readonly low?: number; readonly high?: number };
}

export interface Impression {
  /** Disorder id, as in knowledge/disorders. */
  readonly disorder: string;
  readonly certainty: Certainty;
  readonly note?: string;
  /** False when the clinician keeps this name out of the handout (`in_handout: no`), to be talked over in person. */
  readonly inHandout?: boolean;
}

export interface PlanLine {
  readonly who: string;
  readonly action: string;
  readonly when?: string;
  /** ISO date by which it is to be done. */
  readonly by?: string;
  readonly urgency?: Urgency;
  /** Ids of the must-not-miss lines that this line answers. */
  readonly answers?: readonly string[];
  /** True when it was offered and the patient declined. */
  readonly declined?: boolean;
}

export interface Accepted {
  readonly id: string;
  readonly reason: string;
}

/** The act of signing: who, and when to the minute. */
export interface Signed {
  /** Key of a person in the clinic file. */
  readonly by: string;
  /** ISO date and time, with the offset where it was written. */
  readonly at: string;
  /** Hash over the content that was signed. */
  readonly seal?: string;
  /** 1 for the first letter of this visit; 2 replaces it, and so on. */
  readonly edition?: number;
  /** Why a later edition replaces the one before. */
  readonly reason?: string;
}

export interface Visit {
  readonly format: 1;
  readonly id: string;
  /** ISO date of the visit. */
  readonly date: string;
  readonly status: "draft" | "signed";
  /** Key of a person in the clinic file. */
  readonly seenBy: string;
  readonly reason: string;
  readonly patient: Patient;
  readonly sendTo: readonly Recipient[];
  /** Answers to questions of the facts catalogue. */
  readonly asked?: Answers;
  readonly history: History;
  readonly examination: Examination;
  readonly pullTest: readonly PullTest[];
  readonly scope: Scope;
  readonly sites: readonly Site[];
  readonly extent?: Extent;
  /** Inputs of named scores, `{ lppai: { pruritus: 2 } }`; keys and ranges are those of knowledge/scores. */
  readonly scores: Readonly<Record<string, Readonly<Record<string, number>>>>;
  readonly tests: readonly Test[];
  readonly impression: readonly Impression[];
  readonly plan: readonly PlanLine[];
  readonly followUp?: { readonly weeks: number };
  /** What the patient was told, in free words. */
  readonly told?: string;
  readonly accept: readonly Accepted[];
  readonly signed?: Signed;
}
