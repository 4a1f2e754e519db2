/** Every message the reader of visit and clinic files can give: what it means, how it comes about, what cures it. */
import type { VisitProblemKind } from "../base/problem-kind.js";
import { CONTRADICTION_PROBLEMS, FILE_PROBLEMS } from "../base/problem-table.js";

export const problemTable = {
  ...FILE_PROBLEMS,
  ...CONTRADICTION_PROBLEMS,
} as const satisfies Record<string, VisitProblemKind>;

export type { VisitProblemKind } from "../base/problem-kind.js";

export type ProblemId = keyof typeof problemTable;

/** The row of an id. */
export function problemKind(id: ProblemId): VisitProblemKind {
  return problemTable[id];
}
