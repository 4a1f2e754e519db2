/** The register of a clinic -> letters that were made and not sent, and signed visits of which nothing was made. */
import { groupBy } from "../base/group.js";
import { about } from "./about.js";
import type { WorkVisit } from "./visits.js";
import type { WorkLine } from "./work-line.js";

interface OfVisit {
  readonly at: string;
  readonly visit: string;
  readonly patient: string;
  readonly edition: number;
}
interface OfDocument extends OfVisit {
  readonly hash: string;
  readonly document: string;
  readonly addressee: { readonly name: string; readonly role: string } | null;
}
/** Lines of the register, as far as open work reads them. */
export type Told =
  | ({ readonly kind: "signed" } & OfVisit)
  | ({ readonly kind: "made" } & OfDocument)
  | ({ readonly kind: "sent" | "withdrawn"; readonly of: string } & OfDocument)
  | { readonly kind: "begun" | "erased" | "merged"; readonly at: string }
  | { readonly kind: "gone" };
