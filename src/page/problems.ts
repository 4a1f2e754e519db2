/** The problems that the page room reports. */

import type { Problem } from "../base/problem.js";
import type { PAGE_PROBLEMS } from "../base/problem-table.js";

export type PageProblemId = keyof typeof PAGE_PROBLEMS;

/** An error of the page room. Messages name elements and positions, never the text of a patient. */
export function pageError(id: PageProblemId, message: string, place: Partial<Problem> = {}): Problem {
  return { severity: "error", id, message, ...place };
}
