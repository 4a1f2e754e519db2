/** What the table of messages says of each. */
import type { ProblemKind, Severity } from "../base/problem.js";

/** A row of the table. `severity` is the usual one; `schemaSees` is true where the JSON Schema rejects the file too. */
export interface VisitProblemKind extends ProblemKind {
  readonly severity: Severity;
  readonly example: string;
  readonly schemaSees?: boolean;
}
