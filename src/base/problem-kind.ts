/** What the table of problems says of each. */

/** error: nothing can be made. warning: made, but look. note: worth knowing. */
export type Severity = "error" | "warning" | "note";

/** A row of the table of problems. */
export interface ProblemKind {
  readonly meaning: string;
  readonly cure: string;
}

/** A row about visit and clinic files. `severity` is the usual one; `schemaSees` is true where the JSON Schema rejects the file too. */
export interface VisitProblemKind extends ProblemKind {
  readonly severity: Severity;
  readonly example: string;
  readonly schemaSees?: boolean;
}
