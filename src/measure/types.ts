/** Numbers a visit implies, each with its uncertainty, source and what it lacked. Plain data. */
import type { Region } from "../visit/visit.js";
import type { PartOf } from "./statistics/proportions.js";
import type { PublishedSpread } from "./statistics/spread.js";

/** Published reference values for a measure at this site and in this kind of person; only where a source gives them. */
export interface NormalRange {
  readonly low?: number;
  readonly high?: number;
  /** In words, such as `healthy women, frontal`. */
  readonly group: string;
  readonly source: string;
  /** Where the value stands: outside is a flag, never abnormal in itself. */
  readonly position: "below" | "within" | "above";
  /** What a reader must know of this range. */
  readonly note?: string;
}

/** What is known of the spread behind a sum of counts. */
export interface CountSpread {
  /** The count of each field (or day), when each is known. */
  readonly each?: readonly number[];
  /** Published spread, for want of fields. */
  readonly published?: PublishedSpread;
}

/** What was counted or measured behind a value, from which two visits are compared. */
export type Counted =
  /** `count` things over `exposure` (cm² of scalp, fields of view, or days). */
  | ({
      readonly kind: "rate";
      readonly count: number;
      readonly exposure: number;
      readonly fields: number;
    } & CountSpread)
  /** `each`: the same in each field, where it was counted in several. */
  | ({ readonly kind: "share"; readonly each?: readonly PartOf[] } & PartOf)
  /** `each`: sum and number in each field, where they were taken in fields. */
  | {
      readonly kind: "mean";
      readonly n: number;
      readonly mean: number;
      readonly sd: number;
      readonly each?: readonly PartOf[];
    }
  /** One reading, such as a distance by tape; a smaller difference than `realFrom` is error of measuring. */
  | { readonly kind: "reading"; readonly value: number; readonly realFrom: number };

export interface Measured {
  /** Measure id, such as `hair-density`. */
  readonly id: string;
  /** Printed name, such as `Hair density`. */
  readonly term: string;
  readonly site?: Region;
  /** Place of the site in the visit's list, since one region may be recorded twice. */
  readonly siteIndex?: number;
  readonly value: number;
  /** Unit as printed (`/cm²`, `%`, `µm`); empty for a plain number. */
  readonly unit: string;
  /** UCUM code for exchange. */
  readonly ucum: string;
  /** 95 percent interval; absent where none applies. */
  readonly low?: number;
  readonly high?: number;
  /** How many things were counted or measured. */
  readonly n?: number;
  readonly counted?: Counted;
  /** Ids of the findings that make up a number of findings. */
  readonly findings?: readonly string[];
  /** Decimal places to print. */
  readonly places: number;
  /** How the interval was made, such as `exact Poisson limits`. */
  readonly method?: string;
  /** Source id of the rule, `common practice`, or `from memory`. */
  readonly source: string;
  /** True when the rule itself is from memory: printed wherever the value is. */
  readonly fromMemory: boolean;
  readonly normal?: NormalRange;
  /** Class or band under a named scheme, such as `moderate (AA-IGA)`. */
  readonly band?: string;
  /** Limits of the rule a reader must know. */
  readonly caveat?: string;
}

/** A measure that could not be made, and why: never shown as zero. */
export interface NotMeasured {
  readonly id: string;
  readonly term: string;
  readonly site?: Region;
  readonly siteIndex?: number;
  /** What is missing, such as `field diameter`. */
  readonly missing: string;
}

export interface CriterionResult {
  readonly id: string;
  readonly says: string;
  /** null: not assessable from what was recorded. */
  readonly met: boolean | null;
  readonly kind: "major" | "minor" | "single";
  readonly worked: string;
}

/** A published rule worked through. */
export interface RuleResult {
  /** Rule id, such as `faga-trichoscopy-criteria`. */
  readonly id: string;
  readonly term: string;
  readonly site?: Region;
  readonly siteIndex?: number;
  /** null: not assessable. */
  readonly met: boolean | null;
  readonly criteria: readonly CriterionResult[];
  readonly says: string;
  readonly limits?: string;
  readonly source: string;
  readonly fromMemory: boolean;
}

export interface Measures {
  readonly measured: readonly Measured[];
  readonly notMeasured: readonly NotMeasured[];
  readonly rules: readonly RuleResult[];
}
