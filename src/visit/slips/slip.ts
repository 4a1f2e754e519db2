/** A human slip: how to recognise it, what to say, and a pair of lines that shows it. */
import type { KeyPath } from "../../base/yaml-source.js";
import type { Expectation } from "../expectation.js";
import type { ProblemId } from "../problems.js";
import type { VisitWords } from "../visit-words.js";

/** Lines of a visit file: `bad` put in the place of `good` must raise the slip, and `good` must not. */
export interface SlipExample {
  readonly good: string;
  readonly bad: string;
}

export interface Hint {
  readonly problem: ProblemId;
  readonly message: string;
  readonly expected?: string | undefined;
  readonly suggestion?: string | undefined;
}

/** A value that its place did not take. */
export interface FoundValue {
  readonly want: Expectation;
  /** The text as written; undefined for a list or a group of keys. */
  readonly written: string | undefined;
  readonly raw: unknown;
  readonly path: KeyPath;
  /** The last key of the path. */
  readonly key: string;
}

/** Says what went wrong with a value, better than "not a number" can. */
export interface ValueSlip {
  readonly problem: ProblemId;
  readonly examples: readonly SlipExample[];
  notice(found: FoundValue): Hint | undefined;
}

/** A key that its place does not take. */
export interface FoundKey {
  readonly key: string;
  /** Path of the map that holds it. */
  readonly path: KeyPath;
  /** Keys the map takes. */
  readonly accepted: readonly string[];
  /** The map that holds it, as written. */
  readonly map: Readonly<Record<string, unknown>>;
  /** What stands before it in its line. */
  readonly before: string;
  readonly words: VisitWords | undefined;
  /** Where else in the file the key would be at home, as paths without numbers. */
  homesOf(key: string): readonly string[];
}

export interface KeySlip {
  readonly problem: ProblemId;
  readonly examples: readonly SlipExample[];
  notice(found: FoundKey): Hint | undefined;
}

/** A line that YAML could not take, with the line as it was probably meant. */
export interface LineHint extends Hint {
  /** From 1. */
  readonly column: number;
  readonly length: number;
  readonly repaired: string;
}

export interface LineSlip {
  readonly problem: ProblemId;
  readonly examples: readonly SlipExample[];
  notice(line: string): LineHint | undefined;
}

/** A line with a key and a value: what stands before the value, the value, space after it. */
export const KEY_VALUE = /^(\s*(?:- )?[\p{L}][\p{L}\d_ -]*:\s+)(.*?)(\s*)$/u;
