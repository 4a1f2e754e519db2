/** What changed findings say of activity, by the activity markers that the recorded disorders name. */

import type { Condition } from "../../knowledge/condition.js";
import type { Knowledge } from "../../knowledge/schema.js";
import { heldImpressions } from "../../visit/held.js";
import { AMOUNTS, type Amount, type Visit } from "../../visit/visit.js";
import type { ActivityChange, FindingChange, SeenState } from "./types.js";

const TOWARDS: readonly string[] = ["appeared", "grew"];
const AWAY: readonly string[] = ["went", "shrank"];

/**
 * One line for each changed finding that by itself marks a state in a disorder of the later impression (not excluded).
 * Markers that count only together with others are left to the interpretation of each visit.
 */
export function activityChanges(
  changes: readonly FindingChange[],
  after: Visit,
  knowledge: Knowledge,
): ActivityChange[] {
  const recorded = heldImpressions(after).map((i) => i.disorder);
  return recorded.flatMap((disorder) =>
    (knowledge.disorders[disorder]?.activity ?? []).flatMap((rule) => {
      const markers = markersOf(rule.when);
      return changes.flatMap((change): ActivityChange[] => {
        const { finding, site, nth, kind } = change;
        const trend = TOWARDS.includes(kind) ? "towards" : AWAY.includes(kind) ? "away" : undefined;
        const marker = markers.find((m) => m.findings.includes(finding));
        if (!trend || !marker || !enough(trend === "towards" ? change.after : change.before, marker.atLeast))
          return [];
        const term = knowledge.findings[finding]?.term ?? finding;
        return [
          {
            disorder,
            finding,
            ...(site ? { site } : {}),
            nth,
            kind,
            marks: rule.state,
            trend,
            says: `${term.charAt(0).toUpperCase()}${term.slice(1)}, a marker of ${rule.state} disease, ${kind}.`,
            source: rule.source,
          },
        ];
      });
    }),
  );
}

interface Marker {
  readonly findings: readonly string[];
  readonly atLeast: Amount;
}

/** Findings that satisfy the condition on their own. */
function markersOf(when: Condition): readonly Marker[] {
  if ("any" in when) return when.any.flatMap(markersOf);
  if (!("finding" in when)) return [];
  return [{ findings: [when.finding].flat(), atLeast: when.at_least ?? "single" }];
}

/** Seen in at least that amount; an amount not recorded counts as few. */
function enough(seen: SeenState, atLeast: Amount): boolean {
  return seen.state === "present" && AMOUNTS.indexOf(seen.amount ?? "few") >= AMOUNTS.indexOf(atLeast);
}
