/** Findings that by themselves mark a state of a disease, such as active: where a rule asks for several together, none does. */
import type { FindingId } from "../base/ids.js";
import type { Condition } from "../knowledge/condition.js";
import { AMOUNTS, type Amount } from "../visit/visit.js";

export interface Marker {
  readonly findings: readonly FindingId[];
  readonly atLeast: Amount;
}

/** Findings that satisfy the condition on their own. */
export function markersOf(when: Condition): readonly Marker[] {
  if ("any" in when) return when.any.flatMap(markersOf);
  if (!("finding" in when)) return [];
  return [{ findings: [when.finding].flat(), atLeast: when.at_least ?? "single" }];
}

/** Seen in at least that amount; an amount not recorded counts as few. */
export function seenEnough(
  seen: { readonly state: string; readonly amount?: Amount | null },
  atLeast: Amount,
): boolean {
  return seen.state === "present" && AMOUNTS.indexOf(seen.amount ?? "few") >= AMOUNTS.indexOf(atLeast);
}
