/** The problems that the reader of visit and clinic files reports. */
import type { VisitProblemKind } from "../base/problem-kind.js";
import { CONTRADICTION_PROBLEMS, FILE_PROBLEMS } from "../base/problem-table.js";

export const problemTable = {
  ...FILE_PROBLEMS,
  ...CONTRADICTION_PROBLEMS,
} as const satisfies Record<string, VisitProblemKind>;

export type ProblemId = keyof typeof problemTable;

/** The row of an id. */
export function problemKind(id: ProblemId): VisitProblemKind {
  return problemTable[id];
}
