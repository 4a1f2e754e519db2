/** What one place of a visit file asks for, and what a reader says when it finds something else. */
import type { ProblemId } from "./problems.js";
import type { Vocabulary } from "./vocabulary.js";

/** So many words are always listed; more of them, such as the regions of the scalp, only where none is near. */
const FEW = 8;
const MOST_LISTED = 14;

export type Expectation =
  | { readonly kind: "text"; readonly most: number }
  | {
      readonly kind: "number";
      readonly whole: boolean;
      readonly least: number;
      readonly most: number;
      /** As printed in a hint, such as `mm`; empty for a plain number. */
      readonly unit: string;
    }
  | { readonly kind: "date" }
  | { readonly kind: "moment" }
  | { readonly kind: "word"; readonly words: Vocabulary }
  | { readonly kind: "amount" }
  | { readonly kind: "yes-no" }
  | { readonly kind: "id" }
  | { readonly kind: "path" }
  | { readonly kind: "language" }
  | { readonly kind: "map" }
  | { readonly kind: "list" };

/** A misreading before it has a place. */
export interface ValueIssue {
  readonly problem: ProblemId;
  readonly message: string;
  readonly want: Expectation;
  readonly expected?: string;
  readonly suggestion?: string;
  /** True when the key, not the value, is at fault. */
  readonly onKey?: boolean;
}

/** `a whole number from 0 to 100 (percent)`; `near` where a likely word is suggested beside it. */
export function expectedInWords(want: Expectation, near?: string): string {
  switch (want.kind) {
    case "text":
      return `text of at most ${want.most} letters`;
    case "number": {
      const what = want.whole ? "a whole number" : "a number";
      return `${what} from ${want.least} to ${want.most}${want.unit ? ` (${want.unit})` : ""}`;
    }
    case "date":
      return "a date as year-month-day, such as 2026-03-12";
    case "moment":
      return "a date and a time, such as 2026-03-12T14:05+00:00";
    case "word":
      return want.words.terms.size <= (near === undefined ? MOST_LISTED : FEW)
        ? [...want.words.terms.values()].join(", ")
        : want.words.what;
    case "amount":
      return "none, single, few, several, many, throughout, seen, or { count: 14, fields: 2 }";
    case "yes-no":
      return "true or false";
    case "id":
      return "letters, digits, hyphens, dots or underscores";
    case "path":
      return "a file name inside the visit's own folder";
    case "language":
      return "a language tag such as en-GB";
    case "map":
      return "keys and values, indented below it";
    case "list":
      return "a list, each item beginning with a dash";
  }
}

/** `"32mm"`, `a list`, `nothing` */
export function foundInWords(raw: unknown): string {
  if (raw === null || raw === undefined) return "nothing";
  if (Array.isArray(raw)) return "a list";
  if (typeof raw === "object") return "keys and values";
  const text = String(raw);
  return `"${text.length > 60 ? `${text.slice(0, 57)}...` : text}"`;
}
