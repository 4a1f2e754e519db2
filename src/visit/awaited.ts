/** Tests that wait for their result, and the result in a later visit of the same person that answers one. */
import { foldWord } from "../base/nearest.js";
import type { Test, Visit } from "./visit.js";

/** Words at the start of a result that say that there is none yet, whatever follows: `awaited (repeat sample)`. */
const NOT_YET =
  /^(?:still )?(?:(?:awaited|awaiting|pending|to follow|in progress)\b|(?:sent|taken|requested|ordered|booked|planned)(?:$|[.,;]|\s*\(|\s+(?:\d|(?:to|on|for|at|by|today|again|off)\b)))/iu;
/** Words at the start that say that there will be none. */
const NEVER = /^(?:(?:declined|refused|offered)\b|not (?:done|taken|needed|indicated|available)\b)/iu;

/** True for a test with a figure, or with words that tell what was found. */
export function hasResult({ value, result }: Pick<Test, "value" | "result">): boolean {
  if (value !== undefined) return true;
  const said = result?.trim() ?? "";
  return said !== "" && !NOT_YET.test(said) && !NEVER.test(said);
}

/** Words of a result that settles nothing. */
const UNSETTLED =
  /\b(?:await\w*|pending|insufficient|inadequate|unsatisfactory|non[- ]?diagnostic|inconclusive|equivocal|indeterminate|not processed|lost|leaked|ha?emolysed|contaminated|mislabell?ed|rejected|repeat (?:advised|needed|requested|sample|biops\w*)|re-?biops\w*|interim|preliminary|so far|no growth yet|no growth at [1-7] days?)\b/iu;

/** A figure settles; words do unless they say that the sample told nothing, or not yet. */
export function isSettled(test: Pick<Test, "value" | "result">): boolean {
  return hasResult(test) && (test.value !== undefined || !UNSETTLED.test(test.result ?? ""));
}

/** True for a test of which a result is still to come. */
export function isAwaited({ value, result }: Pick<Test, "value" | "result">): boolean {
  const said = result?.trim() ?? "";
  return value === undefined && (said === "" || NOT_YET.test(said));
}

/** A test as far as it can wait for another, or answer it. */
export type Sample = Pick<Test, "name" | "value" | "result" | "date" | "resultOf">;

/**
 * True when a test of a later visit is the result of an awaited one: of the same name, or saying by `result_of` which it answers.
 * What was taken before the awaited sample is the result of another.
 */
export function isResultOf(later: Sample, awaited: Sample): boolean {
  if (!isSettled(later)) return false;
  if (later.date !== undefined && later.date < (awaited.date ?? "")) return false;
  return foldWord(later.resultOf ?? later.name) === foldWord(awaited.name);
}

/** A result that came since an earlier visit of the same person. */
export interface CameSince {
  readonly test: Test;
  readonly awaited: Test;
  /** The visit that awaited it: the last one before. */
  readonly visit: string;
  readonly date: string;
}

/**
 * Results in a visit that earlier visits of the same person awaited, as in "result of ... since our letter of ...". A result that a
 * visit between them holds already is told no more. Whether the earlier visits are of the same person is for the caller to know.
 */
export function resultsSince(visit: Visit, earlier: readonly Visit[]): CameSince[] {
  const before = earlier.filter((v) => v.date < visit.date).toSorted((a, b) => (a.date < b.date ? -1 : 1));
  return visit.tests.flatMap((test): CameSince[] => {
    let open: CameSince | undefined;
    for (const one of before) {
      const awaited = one.tests.find((t) => isAwaited(t) && isResultOf(test, t));
      const awaitedOpen = open?.awaited;
      if (awaited) open = { test, awaited, visit: one.id, date: one.date };
      else if (awaitedOpen && one.tests.some((t) => isResultOf(t, awaitedOpen))) open = undefined;
    }
    return open ? [open] : [];
  });
}
