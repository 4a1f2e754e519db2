/** How many signs of active disease were seen, of those looked for, in the first recorded impression that has such signs. */

import { z } from "zod";
import type { DisorderId } from "../../base/ids.js";
import type { Knowledge } from "../../knowledge/schema.js";
import { heldImpressions } from "../../visit/held.js";
import type { Visit } from "../../visit/visit.js";
import { pointsDraft } from "../drafts.js";
import { markersOf, seenEnough } from "../markers.js";
import type { ScoreModule } from "../score-module.js";

const table = z.object({ least_signs: z.number() });
interface Inputs {
  /** Finding ids. */
  readonly seen: readonly string[];
  readonly looked: number;
}

export const activitySigns = {
  id: "activity-signs",
  table,
  collect(visit, { least_signs }, knowledge) {
    const [counted] = heldImpressions(visit).flatMap(
      ({ disorder }) => count(visit, disorder, knowledge) ?? [],
    );
    return counted && counted.looked >= least_signs ? [{ inputs: counted }] : [];
  },
  compute: ({ seen, looked }) => ({
    measured: [{ ...pointsDraft(seen.length, `of ${looked}`, "{count}", 0), findings: seen }],
  }),
  examples: [
    {
      inputs: { seen: ["black-dots", "tapered-hairs"], looked: 5 },
      gives: { "activity-signs": "2" },
      from: "counted as they stand",
    },
  ],
} satisfies ScoreModule<Inputs, z.infer<typeof table>>;

/** Undefined where the disorder has no such signs, or none was looked for. */
function count(visit: Visit, disorder: DisorderId, knowledge: Knowledge): Inputs | undefined {
  const rules = (knowledge.disorders[disorder]?.activity ?? []).filter(({ state }) => state === "active");
  const least = new Map(
    rules.flatMap(({ when }) =>
      markersOf(when).flatMap(({ findings, atLeast }) =>
        findings.map((finding) => [finding, atLeast] as const),
      ),
    ),
  );
  const looked = new Set<string>();
  const seen = new Set<string>();
  for (const { finding, seen: state } of visit.sites.flatMap((site) => site.findings)) {
    const atLeast = least.get(finding);
    if (atLeast === undefined) continue;
    looked.add(finding);
    if (seenEnough(state, atLeast)) seen.add(finding);
  }
  return looked.size > 0 ? { seen: [...seen], looked: looked.size } : undefined;
}
