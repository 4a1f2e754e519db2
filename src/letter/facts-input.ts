/** What the facts of one document are worked out from. */
import type { Interpretation } from "../interpret/interpretation.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Change } from "../measure/change/types.js";
import type { Measures } from "../measure/types.js";
import type { Numbered } from "../picture/numbered.js";
import type { Clinic } from "../visit/clinic.js";
import type { Recipient, Visit } from "../visit/visit.js";
import type { Drawing } from "./document.js";
import type { CameSinceLetter } from "./history-facts.js";
import type { Words } from "./phrases.js";

/** A photo read and made ready by the caller. */
export interface Photo {
  /** Name under which the bytes are given to the page. */
  readonly id: string;
  readonly siteIndex: number;
  readonly caption: string;
  /** Millimetres; null when the field diameter is not known. */
  readonly barMm: number | null;
  /** What is drawn into it, by number. */
  readonly marks?: Numbered;
}

export interface FactsInput {
  readonly visit: Visit;
  readonly clinic: Clinic;
  readonly measures: Measures;
  readonly interpretation: Interpretation;
  readonly knowledge: Knowledge;
  readonly words: Words;
  /** Addressee of this copy; null for documents that carry no address. */
  readonly recipient: Recipient | null;
  /** Against earlier visits of this patient; null for a first visit. */
  readonly change: Change | null;
  /** ISO date of the letter that this edition replaces, where it is known; null when this reader never had one. */
  readonly replaces: string | null | undefined;
  /** Results that earlier letters awaited. */
  readonly cameSince?: readonly CameSinceLetter[];
  /** Charts are added here, by name. */
  readonly drawings: Record<string, Drawing>;
  /** True for documents whose reader is the clinician. */
  readonly forClinician: boolean;
  readonly photos: readonly Photo[];
  /** True when this copy is set in large print. */
  readonly large: boolean;
  /** True when a clinic logo is drawn. */
  readonly hasLogo: boolean;
}
