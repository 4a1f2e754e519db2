/** Why a visit or a document needs a person. Reasons name places and rules, never what stands in the visit. */
import type { Problem } from "../base/problem.js";
import { BATCH_PROBLEMS, type ProblemId } from "../base/problem-table.js";

/** `where` is a line and column of the visit file, or a page of the document. */
export interface Reason {
  readonly id: ProblemId;
  readonly message: string;
  readonly where?: string;
}

/** A reason of the batch room; `detail` may name visit ids, files and counts only. */
export function reason(id: keyof typeof BATCH_PROBLEMS, detail?: string, where?: string): Reason {
  const message = detail ? `${BATCH_PROBLEMS[id].meaning} (${detail})` : BATCH_PROBLEMS[id].meaning;
  return { id, message, ...(where ? { where } : {}) };
}

/** A problem of another room without its words, which may quote the visit: `whorl check` shows them in full. */
export function reasonFrom(problem: Problem, meaningOf: (id: string) => string | undefined): Reason {
  const message = meaningOf(problem.id) ?? "see whorl check";
  return {
    id: problem.id,
    message,
    ...(problem.line ? { where: `line ${problem.line}, column ${problem.column ?? 1}` } : {}),
  };
}

/** `line 31, column 7: A word is not known. (unknown-word)` */
export function writeReason(r: Reason): string {
  return `${r.where ? `${r.where}: ` : ""}${r.message} [${r.id}]`;
}
