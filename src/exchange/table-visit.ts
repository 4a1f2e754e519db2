/** One visit that a table makes, and what is wrong with its rows. */
import type { Problem } from "../base/problem.js";
import type { Visit } from "../visit/visit.js";

/** A problem of a row; `column` is the name in the header, where one column is at fault. */
export type RowProblem = Problem & { readonly row: number; readonly tableColumn?: string };

/** One visit of the table. */
export interface TableVisit {
  /** Row as a spreadsheet counts: the header is 1. The first, where several rows make one visit. */
  readonly row: number;
  /** Absent when a problem is an error. */
  readonly visitText?: string;
  readonly visit?: Visit;
  /** File below the folder of all patients, such as `TS-40417/TS-2026-0141.yaml`; given with the text. */
  readonly file?: string;
  readonly problems: readonly RowProblem[];
}
