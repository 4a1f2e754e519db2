/** What changed findings say of activity, by the activity markers that the recorded disorders name. */

import { withCapital } from "../../base/text.js";
import type { Knowledge } from "../../knowledge/schema.js";
import { heldImpressions } from "../../visit/held.js";
import type { Visit } from "../../visit/visit.js";
import { markersOf, seenEnough } from "../markers.js";
import type { ActivityChange, FindingChange } from "./types.js";

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
            says: `${withCapital(term)}, a marker of ${rule.state} disease, ${kind}.`,
            source: rule.source,
          },
        ];
      });
    }),
  );
}
