/** What a problem of a marks file says. */

import type { MARKS_PROBLEMS } from "../base/problem-table.js";

export type MarksProblemId = keyof typeof MARKS_PROBLEMS;

/** What lies beside the marks. */
export interface PhotoSeen {
  /** SHA-256 of the photo's bytes. */
  readonly sha256: string;
}

/** What a problem says beside its place. */
export interface Said {
  readonly message: string;
  readonly found?: string;
  readonly expected?: string;
  readonly suggestion?: string;
}
