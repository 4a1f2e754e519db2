/** What changed between visits of one patient. Plain data. */
import type { Amount, Region } from "../../visit/visit.js";
import type { NormalRange } from "../types.js";

export const VERDICTS = [
  "more than counting error",
  "within counting error",
  "too little counted to tell",
  "too few fields to tell",
  "more than measuring error",
  "within measuring error",
] as const;
/**
 * more than counting error: the 95 percent limits of the change leave out no change.
 * within counting error: they hold no change, and nothing as large as the size worth seeing (knowledge/scores/comparison.yaml).
 * too little counted to tell: they hold both no change and a change worth seeing.
 * too few fields to tell: a share whose fields do not tell how much spots of the scalp differ; no published spread stands in.
 * more than, within measuring error: a reading, such as a distance, against the least difference that is called real.
 */
export type Verdict = (typeof VERDICTS)[number];

export interface VisitStamp {
  readonly visit: string;
  /** ISO date. */
  readonly date: string;
}

export interface Point extends VisitStamp {
  readonly value: number;
  readonly low?: number;
  readonly high?: number;
  readonly n?: number;
}

/** Where a measure was taken; `nth` counts sites of one region from 0. */
export interface ChangePlace {
  readonly site?: Region;
  readonly nth: number;
}

/** One measure over all visits in which it was made, for a chart. */
export interface Series extends ChangePlace {
  readonly id: string;
  readonly term: string;
  readonly unit: string;
  readonly places: number;
  readonly points: readonly Point[];
  /** Published reference values, as they stand at the last visit. */
  readonly normal?: NormalRange;
  readonly fromMemory: boolean;
}

export interface MeasureChange extends ChangePlace {
  readonly id: string;
  readonly term: string;
  readonly unit: string;
  readonly ucum: string;
  readonly places: number;
  readonly before: Point;
  readonly after: Point;
  /** After less before, in `differenceUnit`: the unit itself, or `points` for a percentage. */
  readonly difference: number;
  readonly differenceUnit: string;
  readonly direction: "up" | "down" | "same";
  /**
   * The change with its 95 percent limits: percent of the first value for counts, percentage points for shares,
   * the unit itself for means. `high` is null when it has no upper limit. Absent when nothing was counted behind the value.
   */
  readonly effect?: {
    readonly value: number;
    readonly low: number;
    readonly high: number | null;
    readonly unit: string;
    readonly method: string;
  };
  readonly p?: number;
  /** For counts and shares: whether their spread was told by the fields themselves, by published counts, or taken as that of independent things. */
  readonly spread?: "fields" | "published" | "none";
  /** For counts: the smallest fall in percent that so many fields show in eight of ten comparisons. */
  readonly smallest?: number;
  /** null: judged by eye or added from points, so no counting error applies. */
  readonly verdict: Verdict | null;
  /** One sentence in trade words. */
  readonly says: string;
  /** What a reader must know of this change. */
  readonly notes?: readonly string[];
  /**
   * When too little was counted: fields needed at each visit to see a change by `factor`, or by so many points, in eight of ten
   * comparisons; with neither, fields needed to compare at all.
   */
  readonly needed?: { readonly factor?: number; readonly points?: number; readonly fields: number };
  readonly source: string;
  readonly fromMemory: boolean;
}

/** A measure made at one visit only (`on` is the date of the other), or taken through another field of view. */
export interface NotCompared extends ChangePlace {
  readonly id: string;
  readonly term: string;
  readonly why: "not measured" | "field of view differs" | "measured otherwise";
  /** ISO date. */
  readonly on?: string;
}

export const FINDING_CHANGES = [
  "appeared",
  "went",
  "grew",
  "shrank",
  "same",
  "still absent",
  "first looked for, seen",
  "first looked for, not seen",
  "not looked for again",
] as const;
/** `appeared` and `went` need the finding looked for at both visits: not assessed is not absent. */
export type FindingChangeKind = (typeof FINDING_CHANGES)[number];

export interface FindingChange extends ChangePlace {
  readonly finding: string;
  readonly kind: FindingChangeKind;
  readonly before: SeenState;
  readonly after: SeenState;
  /** Of the two counts, when both visits gave one. */
  readonly p?: number;
  readonly note?: string;
}

export interface SeenState {
  readonly state: "present" | "absent" | "not assessed";
  readonly amount?: Amount | null;
  readonly count?: number;
  readonly fields?: number;
}

/** Response of a score by published thresholds. */
export interface Response {
  readonly id: "salt-score";
  readonly before: number;
  readonly after: number;
  /** Percent fall from the first value; negative for a rise, null when the first value is 0. */
  readonly percentFall: number | null;
  readonly thresholds: readonly {
    readonly id: string;
    readonly says: string;
    /** null: not defined from this starting value. */
    readonly met: boolean | null;
  }[];
  readonly source: string;
  readonly fromMemory: boolean;
}

/** What a changed finding says of activity, by the activity markers of a recorded disorder. */
export interface ActivityChange extends ChangePlace {
  readonly disorder: string;
  readonly finding: string;
  readonly kind: FindingChangeKind;
  /** Which state the finding marks in that disorder. */
  readonly marks: "active" | "stable" | "long-standing" | "recovering";
  readonly trend: "towards" | "away";
  readonly says: string;
  readonly source: string;
}

/** Two visits compared. */
export interface Step {
  readonly from: VisitStamp;
  readonly to: VisitStamp;
  readonly days: number;
  readonly measures: readonly MeasureChange[];
  readonly notCompared: readonly NotCompared[];
  readonly findings: readonly FindingChange[];
  /** Regions looked at in only one of the two visits. */
  readonly sitesOnlyBefore: readonly Region[];
  readonly sitesOnlyAfter: readonly Region[];
  readonly responses: readonly Response[];
  readonly activity: readonly ActivityChange[];
}

export interface Change {
  readonly patient: { readonly id: string; readonly born: string };
  /** In order of date. */
  readonly visits: readonly VisitStamp[];
  readonly series: readonly Series[];
  /** Each visit against the one before it. */
  readonly steps: readonly Step[];
  /** Last visit against the first; the same as the only step when there are two visits. */
  readonly overall: Step;
}
