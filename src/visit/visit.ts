/** The visit as the rest of the house sees it: checked, ids resolved, units in names. Plain data, as the tables of keys say. */
import type { VisitOf } from "./key.js";
import type { EVENT_KEYS } from "./keys/patient.js";
import type { TopKeys } from "./keys.js";
import type { MarkedPhoto } from "./marked-photos.js";

export * from "./terms.js";

type Top = VisitOf<Omit<TopKeys, "format" | "visit">>;

/** What stands below `visit` in the file stands at the top here. */
export type Visit = { readonly format: 1 } & VisitOf<typeof EVENT_KEYS> &
  Top & {
    /** Photos with the marks that lie beside them; no part of the file itself. */
    readonly marks?: readonly MarkedPhoto[];
  };

export type Patient = Top["patient"];
export type PersonName = Patient["name"];
export type Recipient = Top["sendTo"][number];
export type History = Top["history"];
/** When it began: at birth, some weeks before the visit, or at an age in years. */
export type Began = NonNullable<History["began"]>;
/** What was seen beyond the dermoscope; a key left out was not examined. */
export type Examination = Top["examination"];
export type PullTest = Top["pullTest"][number];
export type Scope = Top["scope"];
export type Site = Top["sites"][number];
export type Patch = NonNullable<Site["patch"]>;
/** One counted field of view; every count is optional, since not counted is not zero. */
export type CountedField = Site["fields"][number];
export type Photo = Site["photos"][number];
/** Percent of hair lost in each of the four areas; an area left out was not estimated. */
export type Extent = NonNullable<Top["extent"]>;
export type Test = Top["tests"][number];
export type Impression = Top["impression"][number];
export type PlanLine = Top["plan"][number];
export type Accepted = Top["accept"][number];
/** The act of signing: who, and when to the minute. */
export type Signed = NonNullable<Top["signed"]>;
