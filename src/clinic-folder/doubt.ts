/** A doubt about whose a visit is, and the visits that raise it. */
import type { IDENTITY_PROBLEMS } from "../base/problem-table.js";
import type { Identity } from "../visit/same-patient.js";

export type IdentityProblemId = keyof typeof IDENTITY_PROBLEMS;

/** A visit file whose patient is known. */
export interface Known {
  readonly file: string;
  readonly identity: Identity;
  readonly photos: readonly string[];
}

export interface Doubt {
  readonly id: IdentityProblemId;
  /** The other visits that raise it; none when the visit alone does. */
  readonly others: readonly Known[];
  readonly isAccepted: boolean;
  /** The photo it is about. */
  readonly photo?: string;
}
