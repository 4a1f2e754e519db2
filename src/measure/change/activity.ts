/** What changed findings say of activity, by the activity markers that the recorded disorders name. */

import { withCapital } from "../../base/text.js";
import type { Knowledge } from "../../knowledge/schema.js";
import { heldImpressions } from "../../visit/held.js";
import type { Visit } from "../../visit/visit.js";
import { markersOf, seenEnough } from "../markers.js";
import type { ActivityChange, FindingChange } from "./types.js";

/** Changes that speak for the state a finding marks, and in words. */
const TOWARDS: Readonly<Record<string, string>> = { appeared: "new", grew: "more than before" };
/** Changes that speak against it. */
const AWAY: Readonly<Record<string, string>> = { went: "no longer seen", shrank: "less than before" };

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
        const trend = kind in TOWARDS ? "towards" : kind in AWAY ? "away" : undefined;
        const marker = markers.find((m) => m.findings.includes(finding));
        if (
          !trend ||
          !marker ||
          !seenEnough(trend === "towards" ? change.after : change.before, marker.atLeast)
        )
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
            says: `${withCapital(term)}, a marker of ${rule.state} disease: ${TOWARDS[kind] ?? AWAY[kind]}.`,
            source: rule.source,
          },
        ];
      });
    }),
  );
}
