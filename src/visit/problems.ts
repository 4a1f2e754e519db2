/** Every message the reader of visit and clinic files can give: what it means, how it comes about, what cures it. */
import type { ProblemKind, Severity } from "../base/problem.js";
import { CONTRADICTION_PROBLEMS } from "./problems-contradictions.js";
import { FILE_PROBLEMS } from "./problems-file.js";

/** A row of the table. `severity` is the usual one; `schemaSees` is true where the JSON Schema rejects the file too. */
export interface VisitProblemKind extends ProblemKind {
  readonly severity: Severity;
  readonly example: string;
  readonly schemaSees?: boolean;
}

export const problemTable = {
  ...FILE_PROBLEMS,
  ...CONTRADICTION_PROBLEMS,
} as const satisfies Record<string, VisitProblemKind>;

export type ProblemId = keyof typeof problemTable;

/** The row of an id. */
export function problemKind(id: ProblemId): VisitProblemKind {
  return problemTable[id];
}
