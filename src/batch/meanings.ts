/** The meaning of a problem id: a fixed sentence that quotes nothing. */
import { PROBLEMS, type ProblemId } from "../base/problem-table.js";

export function meaningOf(id: string): string | undefined {
  return Object.hasOwn(PROBLEMS, id) ? PROBLEMS[id as ProblemId].meaning : undefined;
}
