/** What a run remembers of each visit and document: the lines of the journal and the rows of the manifest. Plain data. */
import type { Paper } from "../letter/document.js";
import type { SignedVisit } from "../register/record.js";
import type { Reason } from "./outcome.js";

/** `ready`: may be posted. `draft`: made from an unsigned visit. `set aside`: proofing found a fault. */
export type DocumentState = "ready" | "draft" | "set aside";

export interface DocumentRecord {
  readonly visit: string;
  readonly patient: string;
  readonly document: string;
  /** Null for documents that carry no address; `index` counts those written to first, then those who get a copy. */
  readonly recipient: {
    readonly index: number;
    readonly name: string;
    readonly role: string;
    readonly copy: boolean;
    readonly postal_code: string;
  } | null;
  /** Path from the folder of the manifest, with `/`. */
  readonly file: string;
  readonly pages: number;
  readonly sha256: string;
  readonly paper: Paper;
  readonly state: DocumentState;
  /** What proofing found; null when the document was not proofed. */
  readonly faults: readonly Reason[] | null;
}

/** made: its documents are on disk. waiting: not signed. failed: needs a person. */
export type VisitState = "made" | "waiting" | "failed";

export interface VisitRecord {
  /** As WorkItem.key. */
  readonly key: string;
  readonly fingerprint: string;
  readonly visit: string;
  readonly state: VisitState;
  readonly documents: readonly DocumentRecord[];
  readonly reasons: readonly Reason[];
  /** Whose signature its documents bear; none for a draft. */
  readonly signed?: SignedVisit;
}

/** First line of a journal. */
export interface JournalHead {
  readonly journal: 1;
  /** Absolute path of the source that the folder belongs to. */
  readonly source: string;
}
