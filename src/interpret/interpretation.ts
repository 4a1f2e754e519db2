/** What the findings support, with reasons. For the clinician only; plain data. */
import type { CautionId, DisorderId, FactId, FindingId, LineId } from "../base/ids.js";
import type { ReadFact } from "../visit/prose/read-prose.js";
import type { Amount, Region, Urgency } from "../visit/visit.js";

export const BANDS = ["strongly supported", "supported", "possible", "unlikely", "not assessable"] as const;
export type Band = (typeof BANDS)[number];

/** Names for shares of draws, from the largest. The draws cover what studies leave open and nothing else, so none is called all. */
const DRAWS_WORDS = [
  [0.95, "nearly all"],
  [0.7, "most"],
  [0.5, "more than half of the"],
  [0.15, "some"],
  [0.02, "few"],
] as const;

/** The words for a share of draws, fit before `draws`. */
export function drawsWord(share: number): (typeof DRAWS_WORDS)[number][1] | "hardly any" {
  return DRAWS_WORDS.find(([least]) => share >= least)?.[1] ?? "hardly any";
}

/** One line of the ledger: a finding, fact, pattern, context rule, published rule or test that moved a disorder. */
export interface Reason {
  readonly kind: "finding" | "fact" | "pattern" | "context" | "rule" | "test";
  /** Finding id, or the id of the pattern or rule. */
  readonly id: string;
  /** In trade words, such as `exclamation mark hairs, several`. */
  readonly says: string;
  readonly site?: Region;
  /** For facts: recorded as seen on examination, not told of the past or read from words. */
  readonly examined?: boolean;
  /** present or absent, for findings and facts. */
  readonly state?: "present" | "absent";
  readonly amount?: Amount | null;
  /** Natural-log weight after amount and damping: positive speaks for, negative against. */
  readonly weight: number;
  /** Weight before amount, damping and group share were applied. */
  readonly rawWeight?: number;
  /** Of `weight`, what cases met before add to what studies say; left out where they add nothing. */
  readonly fromCases?: number;
  /** Pooled frequency in this disorder and its 95 % interval, as fractions. */
  readonly frequency?: {
    readonly mean: number;
    readonly low: number;
    readonly high: number;
    readonly basis: string;
  };
  /** Source ids joined by "; ". */
  readonly source: string;
}

export interface DisorderView {
  readonly id: DisorderId;
  readonly band: Band;
  /** Share of draws in which it leads, 0-1. */
  readonly leads: number;
  /** Sum of weights on the natural-log scale, prior included. */
  readonly score: number;
  readonly for: readonly Reason[];
  readonly against: readonly Reason[];
  /** Base weight in the clinic, its own ledger line. */
  readonly base: number;
}

export interface ActivityView {
  readonly disorder: DisorderId;
  readonly state: "active" | "stable" | "long-standing" | "recovering" | "mixed" | "not assessable";
  readonly stage?: string;
  /** Finding ids or rule ids. */
  readonly markers: readonly string[];
  readonly says: readonly string[];
  readonly source: string;
}

/** What raised a must-not-miss line. */
export interface Ground {
  readonly kind: "finding" | "fact" | "words" | "unasked" | "band" | "impression" | "medicine";
  readonly says: string;
  /** A site, or a path of the visit file. */
  readonly where?: string;
}

/** What closed a line. Words never do. */
export interface Closing {
  readonly kind: "test" | "plan" | "answer" | "declined" | "accepted";
  readonly says: string;
}

export interface MustNotMiss {
  readonly id: LineId;
  /** Caution file it comes from. */
  readonly caution: CautionId;
  readonly why: string;
  readonly urgency: Urgency;
  /** Who must act. */
  readonly who: string;
  readonly raisedBy: readonly Ground[];
  readonly closedBy: Closing | null;
  /** True when it is closed. */
  readonly answeredByPlan: boolean;
}

/** A red flag that this visit calls for, or that its words name in passing, and that nobody asked. */
export interface AskedFor {
  readonly id: FactId;
  readonly question: string;
  readonly urgency: Urgency;
  readonly why: string;
  /** The words that name it, where nothing else of the visit calls for it. */
  readonly named?: string;
}

export interface LookNext {
  /** Finding id, or the words of a test. */
  readonly lookFor: string;
  readonly kind: "finding" | "test";
  readonly says: string;
  readonly separates: readonly DisorderId[];
  /** Expected information, bits. */
  readonly bits: number;
}

export interface Agreement {
  readonly recorded: readonly DisorderId[];
  readonly verdict: "agrees" | "partly" | "disagrees" | "too-little" | "no-impression";
  readonly why: string;
}

/** Whether a healthy scalp would explain the picture about as well as the leader: a comparator, never a verdict. */
export interface HealthyView {
  readonly comparable: boolean;
  readonly why: string;
}

/** What one site alone supports. */
export interface SiteView {
  readonly site: Region;
  readonly index: number;
  readonly leading: readonly { readonly id: DisorderId; readonly band: Band }[];
}

export interface AppliedCaution {
  readonly id: CautionId;
  readonly doctor?: string;
  readonly patient?: string;
  readonly clinician?: string;
  readonly source: string;
}

export interface Interpretation {
  readonly visit: string;
  /** Every disorder weighed, best supported first. */
  readonly disorders: readonly DisorderView[];
  /** A disorder beside the leading one, put as a question; `explains` holds finding, pattern, rule or test ids. */
  readonly second?: {
    readonly id: DisorderId;
    readonly question: true;
    readonly explains: readonly string[];
    readonly why: string;
  };
  /** Finding ids recorded as present that the leading disorder does not explain, the strongest first. */
  readonly unexplained: readonly FindingId[];
  readonly healthy: HealthyView;
  readonly sites: readonly SiteView[];
  readonly activity: readonly ActivityView[];
  readonly mustNotMiss: readonly MustNotMiss[];
  readonly askedFor: readonly AskedFor[];
  /** Facts that free text speaks of; proposals, for the clinician to confirm or deny. */
  readonly readFromWords: readonly ReadFact[];
  readonly lookNext: readonly LookNext[];
  readonly agreement: Agreement;
  /** Finding ids that would matter and were never assessed. */
  readonly notAssessed: readonly FindingId[];
  /** Share of the findings that could bear on the leading disorders that was assessed, 0-1. */
  readonly assessedShare: number;
  readonly cautions: readonly AppliedCaution[];
  /** Notes such as `typical fungal hairs nearly vanish in inflamed scalps`. */
  readonly notes: readonly {
    readonly says: string;
    readonly source: string;
    /** What the note is on. */
    readonly finding?: FindingId | undefined;
  }[];
}
