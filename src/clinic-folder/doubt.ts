/** A doubt about whose a visit is, and the visits that raise it. */
import type { Identity } from "../visit/same-patient.js";
import type { IdentityProblemId } from "./identity-table.js";

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
