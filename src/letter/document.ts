/** A finished letter as semantic HTML with what the page needs to set it. Plain data; the page room turns it into bytes. */

import type { Paper } from "../base/paper.js";

export type { Paper };

/** Address window position, by envelope habit; `none` sets the address in the text. */
export type AddressWindow = "uk-dl" | "din-5008-a" | "din-5008-b" | "us-9" | "us-10" | "none";

/** Body type: compact for a doctor's letter, reading for a handout (12 pt or more), large print (18 pt). */
export type TypeSize = "compact" | "reading" | "large";

/** One of our own drawings as SVG or image element, made when a template asks for it: a document shows few of those it could. */
export type Drawing = () => string;

/** Whom a document speaks to; a third party has no part in the care. */
export const READERS = ["doctor", "patient", "clinician", "third party"] as const;
export type Reader = (typeof READERS)[number];

export interface Letter {
  /** Template name, such as `referral-letter`. */
  readonly kind: string;
  /** Document title: names the document and the visit id, never the patient. */
  readonly title: string;
  /** BCP 47 tag of the text. */
  readonly language: string;
  readonly paper: Paper;
  readonly typeSize: TypeSize;
  readonly addressWindow: AddressWindow;
  readonly foldMarks: boolean;
  /** True for a sheet that shows where the window of the envelope falls. */
  readonly windowOutline?: boolean;
  /** Word set across every page, such as DRAFT; null when signed. */
  readonly draftMark: string | null;
  /** Printed at the foot of every page: the patient's identifiers and the letter's date. */
  readonly identifiers: string;
  /** Short confidentiality line at the foot of every page. */
  readonly confidentiality: string;
  /** Page count words with {page} and {pages}, such as `Page {page} of {pages}`. */
  readonly pageWords: string;
  /** ISO date used as the creation date, so that equal input gives equal bytes. */
  readonly date: string;
  /** The body in the vocabulary of templates/README.md. */
  readonly html: string;
  /** Images the body refers to by `src="photo:ID"`: encoded JPEG or PNG, already stripped of metadata. */
  readonly photos: Readonly<Record<string, Uint8Array>>;
  /** Folder of the clinic's own typefaces, tried after ours. */
  readonly fonts?: string;
}
