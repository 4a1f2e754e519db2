/** What every check of a read visit file gets: the values, and a way to report with a place. */
import type { Report } from "./report.js";
import type { VisitFile } from "./schema.js";

export interface CheckContext {
  /** The file's values; what is missing or misread is undefined. */
  readonly file: VisitFile;
  /** Reports at a path of the file. */
  readonly report: Report;
  /** ISO date of today; checks against it are left out without one. */
  readonly today?: string;
}

/** Entries of a list that are there, each with its index in the file. */
export function entries<T>(list: readonly (T | null)[] | null | undefined): [number, T][] {
  return (list ?? []).flatMap((entry, i): [number, T][] => (entry === null ? [] : [[i, entry]]));
}
