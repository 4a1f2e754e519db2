/** What every room reports instead of throwing: plain data, no colour, no wrapping. Only true bugs throw. */
import type { Severity } from "./problem-kind.js";
import type { ProblemId } from "./problem-table.js";

export type { Severity } from "./problem-kind.js";
export type { ProblemId } from "./problem-table.js";

/** A second place a problem speaks of, such as "first recorded here". Lines and columns count from 1. */
export interface RelatedPlace {
  readonly message: string;
  readonly line: number;
  readonly column: number;
}

/**
 * One thing a person should look at. `line` and `column` count from 1 and are absent when the problem concerns
 * the whole file. `path` is written as in `sites[0].findings.yellow dots`. `suggestion` is the nearest valid word.
 */
export interface Problem {
  readonly severity: Severity;
  readonly id: ProblemId;
  readonly message: string;
  readonly file?: string;
  readonly line?: number;
  readonly column?: number;
  /** Characters to underline, from `column`. */
  readonly length?: number;
  readonly path?: string;
  readonly found?: string;
  readonly expected?: string;
  readonly suggestion?: string;
  readonly related?: readonly RelatedPlace[];
}

/** A value, or the problems that stopped it; a value may come with warnings. */
export interface Outcome<T> {
  readonly value?: T;
  readonly problems: readonly Problem[];
}

/** True when any problem is an error. */
export function hasError(problems: readonly Problem[]): boolean {
  return problems.some((p) => p.severity === "error");
}
