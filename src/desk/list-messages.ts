/** What server and page say to each other of the folder as a whole: its list, open work, new visits, tables. */
import type { Problem } from "../base/problem.js";
import type { MappingForm } from "../exchange/mapping-shown.js";
import type { Edit } from "./messages.js";

export interface ListedVisit {
  readonly file: string;
  readonly id: string;
  readonly patient: string;
  readonly patientId: string;
  readonly born: string;
  readonly date: string;
  readonly reason: string;
  readonly state: "draft" | "problems" | "signed" | "made";
  readonly errors: number;
}

/** What the list calls each state. */
export const STATES: Readonly<Record<ListedVisit["state"], string>> = {
  draft: "Draft",
  problems: "Errors",
  signed: "Signed",
  made: "Letters made",
};

export interface ListAsked {
  /** Words that all stand in what is said of a visit; empty for every visit. */
  readonly find: string;
  /** So many visits at most. */
  readonly most: number;
  /** True to wait until the folder was looked at again. */
  readonly now: boolean;
}

/** The visits asked for, newest first, or how far the first look at a big folder is. */
export type ListAnswer = VisitsFound | LookedSoFar;

export interface VisitsFound {
  /** Of this day, while nothing is looked for; they stand in no other list then. */
  readonly ofToday: readonly ListedVisit[];
  /** The first of those found. */
  readonly visits: readonly ListedVisit[];
  /** Found, those of this day among them. */
  readonly found: number;
  /** In the folder. */
  readonly of: number;
  /** False when other programs may have written in the folder since it was last looked at. */
  readonly isFresh: boolean;
}

export interface LookedSoFar {
  readonly done: number;
  readonly of: number;
}

/** Something that waits, and the visit that closes it. */
export interface Waiting {
  readonly kind: string;
  /** Such as `Test awaited`. */
  readonly heading: string;
  readonly closes: string;
  readonly urgency: string | null;
  readonly due: boolean;
  readonly what: string;
  readonly who: string;
  readonly patient: string;
  readonly patientId: string;
  readonly since: string;
  readonly by: string | null;
  /** The visit file as the page names it; empty where it is gone. */
  readonly file: string;
}

/** Open work of the folder, what must be acted on first, or how far the weighing of its visits is. */
export type WaitingAnswer = OpenLines | LookedSoFar;

export interface OpenLines {
  /** The first of those to act on, or of all when so many were asked for. */
  readonly waiting: readonly Waiting[];
  /** To act on. */
  readonly due: number;
  readonly of: number;
}

export interface NewVisit {
  readonly id: string;
  readonly date: string;
  readonly seenBy: string;
  /** Why it stands that another visit speaks of the same number or person; empty until somebody was asked. */
  readonly reason: string;
  readonly patientId: string;
  readonly title: string;
  readonly given: string;
  readonly family: string;
  readonly born: string;
  readonly sex: string;
  /** File of the visit that this one follows. */
  readonly follows?: string;
}

/** A file whose visit was put aside. */
export interface VisitAside {
  /** Where it lies among those put aside. */
  readonly lies: string;
  /** As the page names it once it is taken back. */
  readonly file: string;
  readonly patient: string;
  readonly date: string;
}

/** A table, and how to read it. */
export interface TableAsked {
  readonly name: string;
  /** Base64. */
  readonly bytes: string;
  /** Text of a mapping file; absent for the one kept in the folder, or a first draft. */
  readonly mapping?: string;
  /** Changes of that mapping by its form. */
  readonly edits?: readonly Edit[];
}

/** What a table would become. */
export interface TableTried {
  /** Text of the mapping by which it was read. */
  readonly mapping: string;
  /** The same as a form; null while the text is none. */
  readonly form: MappingForm | null;
  /** Of the mapping and of the table as a whole. */
  readonly problems: readonly Problem[];
  readonly rows: number;
  readonly visits: readonly TableLine[];
  /** True when every visit of it can be written. */
  readonly isReady: boolean;
}

export interface TableLine {
  /** As a spreadsheet counts; the first, where several make one visit. */
  readonly row: number;
  readonly file: string;
  readonly patient: string;
  readonly date: string;
  /** True when a file of that name is there. */
  readonly isTaken: boolean;
  readonly problems: readonly Problem[];
}
