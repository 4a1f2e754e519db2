/** What the desk's server and its page say to each other. Types only, so that both sides share them at no cost. */
import type { Problem } from "../base/problem.js";
import type { KeyPath } from "../base/yaml-source.js";
import type { AskedFor, Interpretation, MustNotMiss } from "../interpret/interpretation.js";
import type { Estimate } from "../picture/intervals.js";
import type { Marks, Point } from "../picture/marks.js";
import type { Visit } from "../visit/visit.js";

/** A value as it stands in the file: every scalar is the text that was written. */
export type Written = string | null | readonly Written[] | { readonly [key: string]: Written };

/** What a form may put into a file. */
export type Given =
  | string
  | number
  | boolean
  | readonly Given[]
  | { readonly [key: string]: Given | undefined };

/**
 * One change of a visit file. `set` makes what is missing on the way and appends when the index is the length of a list;
 * `remove` also removes what it leaves empty.
 */
export type Edit =
  | { readonly do: "set"; readonly path: KeyPath; readonly value: Given }
  | { readonly do: "remove"; readonly path: KeyPath };

/** Panes that show a document page by page, with the document each shows. */
export const SHEETS = {
  letter: "referral-letter",
  handout: "handout",
  "reasoning-sheet": "reasoning-sheet",
  progress: "progress-sheet",
} as const;
export type SheetPane = keyof typeof SHEETS;
export const PANES = [
  "letter",
  "handout",
  "reasoning",
  "reasoning-sheet",
  "progress",
  "problems",
  "before",
] as const;
export type Pane = (typeof PANES)[number];

/** What stands beside the form: the pane, and whose letter it shows, counted from 0; the first where nobody was chosen. */
export interface Shown {
  readonly pane: Pane;
  readonly reader?: number;
}

/** A document as it stands now; the page asks for its bytes when the key is a new one. */
export interface Sheet {
  readonly kind: SheetPane;
  /** Names its content; null while nothing could be composed. */
  readonly key: string | null;
  /** True when an error keeps the sheet at an earlier state of the visit. */
  readonly stale: boolean;
  /** Who is written to, those with a letter of their own first; empty for a document without an address. */
  readonly readers: readonly string[];
  /** Whose letter it is. */
  readonly reader: number;
}

export interface MadeFile {
  /** File name inside the letters folder beside the visit. */
  readonly name: string;
  readonly kind: string;
  /** Who it is for; empty for a document without an address. */
  readonly reader: string;
  /** Where the browser finds it. */
  readonly link: string;
  /** False when the visit was changed after the document was made. */
  readonly current: boolean;
}

/** A file that the page hands to the browser to keep. */
export interface GivenFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** A document of the visit that the register knows. */
export interface LeftDocument {
  /** Names it in the register. */
  readonly id: string;
  readonly kind: string;
  /** Empty for a document without an address. */
  readonly reader: string;
  readonly edition: number;
  /** Day that it gives as its own. */
  readonly dated: string;
  readonly state: "waiting" | "sent" | "replaced" | "withdrawn";
  /** Each time that it left. */
  readonly left: readonly { readonly on: string; readonly how: string; readonly by: string }[];
  /** Why it was withdrawn. */
  readonly why: string;
}

/** What is still open when somebody is about to sign. */
export interface OpenPoint {
  readonly kind: "warning" | "must not be missed" | "not asked" | "not printed";
  readonly id: string;
  readonly says: string;
  readonly path?: string;
}

export interface Signing {
  readonly open: readonly OpenPoint[];
  /** What keeps the visit from being signed at all. */
  readonly errors: readonly Problem[];
  /** Names the list as it was shown; a signature on another list is refused. */
  readonly digest: string;
}

/** As the page asks for it before anyone signs. */
export interface SigningAsked extends Signing {
  /** Number of the edition that a signature given now makes. */
  readonly edition: number;
  /** True when nobody has said yet why an earlier edition is replaced. */
  readonly needsReason: boolean;
}

/** One visit as the page shows it. */
export interface VisitState {
  /** Path of the visit file inside the desk's folder. */
  readonly file: string;
  /** Names this text of the file; an edit must name the text it was made on. */
  readonly hash: string;
  /** Null while the file cannot be read as YAML. */
  readonly written: { readonly [key: string]: Written } | null;
  readonly signed: boolean;
  readonly problems: readonly Problem[];
  /** Sent when its pane is on show; null while an error keeps the visit from being weighed and it never was. */
  readonly reasoning: Interpretation | null;
  /** False while problems, reasoning and sheet still wait for the weighing of the last change. */
  readonly settled: boolean;
  /** True until the first weighing since the visit was opened: what it says is still to come. */
  readonly isUnweighed: boolean;
  readonly sheet: Sheet | null;
  readonly canUndo: boolean;
  readonly canRedo: boolean;
  readonly made: readonly MadeFile[];
  /** Earlier visits of the patient, oldest first. */
  readonly earlier: readonly Visit[];
  /** What must not be missed, open or closed; always sent, since it must be answered where the plan is written. */
  readonly mustNotMiss: readonly MustNotMiss[];
  /** Questions that the visit calls for and nobody asked. */
  readonly askedFor: readonly AskedFor[];
  /** Facts that free text speaks of, to be confirmed or denied. */
  readonly readFromWords: Interpretation["readFromWords"];
  /** By score id, what it comes to. */
  readonly results: Readonly<Record<string, readonly string[]>>;
  /** By region, the finding ids to offer first. */
  readonly likely: Readonly<Record<string, readonly string[]>>;
  /** Findings that most healthy scalps show; "nothing else seen" does not speak of them. */
  readonly usual: readonly string[];
}

/** The file changed underneath: another program, or another tab. */
export interface Conflict {
  readonly conflict: true;
}

/** The clinic file as it stands. */
export interface ClinicState {
  readonly file: string;
  readonly isThere: boolean;
  readonly hash: string;
  /** Null while the file cannot be read as YAML. */
  readonly written: { readonly [key: string]: Written } | null;
  readonly problems: readonly Problem[];
  readonly windows: readonly string[];
}

/** The clinic file with changes that are not written yet. */
export interface ClinicTried {
  /** What `whorl check` says of it. */
  readonly problems: readonly Problem[];
  /** Those that keep it from being written. */
  readonly inTheWay: readonly Problem[];
}

/** What stands in the file now, whoever wrote it. */
export interface OnDisk {
  readonly hash: string;
  readonly written: { readonly [key: string]: Written } | null;
}

export interface Refusal {
  readonly refused: string;
  readonly problems?: readonly Problem[];
  /** True when a reason would let it stand. */
  readonly needsReason?: boolean;
}

export interface WordEntry {
  readonly id: string;
  readonly term: string;
  readonly also: readonly string[];
}

export interface FindingEntry extends WordEntry {
  /** Regions at which alone it can be looked for; null for any. */
  readonly onlyAt: readonly string[] | null;
  readonly group: string;
  readonly what: string;
  readonly look: string | null;
  /** SVG text of its small drawing. */
  readonly picture: string;
}

/** A question, sign, exposure or pattern of the facts catalogue. */
export interface FactEntry extends WordEntry {
  readonly kind: "red flag" | "history" | "exposure" | "pattern" | "sign" | "medicine class";
  readonly what: string;
  readonly question: string | null;
  readonly urgency: string | null;
}

export interface ScoreEntry extends WordEntry {
  readonly about: string;
  readonly inputs: readonly {
    key: string;
    min: number;
    max: number;
    says: string;
    /** Numbers with their words, where a choice is made; empty for a plain number. */
    choices: readonly (readonly [string, string])[];
  }[];
}

export interface RecipientEntry {
  readonly role: string;
  readonly name: string;
  readonly address: readonly string[];
}

/** A key of the visit file as the form shows it. */
export interface FormField {
  /** `history.symptoms.itch`, `tests.range.low`. */
  readonly path: string;
  readonly says: string;
  readonly needed: boolean;
  /** map and words hold words of the catalogue. */
  readonly kind: "word" | "words" | "number" | "date" | "yes-no" | "line" | "prose" | "lines" | "map";
  readonly words?: readonly string[];
  readonly least?: number;
  readonly greatest?: number;
  /** Most characters. */
  readonly most?: number;
}

/** Words and people that the page offers; the same for every visit. */
export interface DeskWords {
  readonly folder: string;
  readonly today: string;
  readonly clinic: string | null;
  readonly people: readonly { key: string; name: string; role: string; maySign: boolean }[];
  readonly findings: readonly FindingEntry[];
  readonly disorders: readonly WordEntry[];
  readonly facts: readonly FactEntry[];
  /** Every key of a visit file, in the order of the format. */
  readonly fields: readonly FormField[];
  readonly regions: readonly WordEntry[];
  readonly scores: readonly ScoreEntry[];
  /** Recipients named in the folder's visits, for filling in. */
  readonly recipients: readonly RecipientEntry[];
  /** A free number for the next visit. */
  readonly nextId: string;
  /** A free number for the next new patient. */
  readonly nextPatientId: string;
}

/** Marks of one photo by two people; both agreements are told by the picture room. */
export interface MarksAgreed {
  readonly shared: number;
  /** Where only one of the two has a hair. */
  readonly onlyHere: readonly Point[];
  readonly onlyThere: readonly Point[];
  /** Positive specific agreement on hairs. */
  readonly agreement?: Estimate;
  /** Cohen's kappa of the classes of shared hairs. */
  readonly classKappa?: number;
}

/** What the page gets of a photo's marks. */
export interface MarksState {
  /** Of the marks file's text; empty where there is none yet. */
  readonly hash: string;
  /** Null where there are none, or where the file has errors. */
  readonly marks: Marks | null;
  readonly problems: readonly Problem[];
  /** The photo itself: SHA-256, and its size turned upright. */
  readonly photo: { readonly sha256: string; readonly widthPx: number; readonly heightPx: number };
}
