/** Hairs that came out over four pulled areas together, against the whole-scalp alternative of the pull test. */
import { z } from "zod";
import type { ScoreModule } from "../score-module.js";

const table = z.object({
  sites: z.number(),
  normal_to: z.number(),
  positive_above: z.number(),
  limits: z.string(),
});
interface Inputs {
  readonly sites: number;
  readonly came_out: number;
}

export const hairPullTotal = {
  id: "hair-pull-total",
  table,
  collect(visit, { sites }) {
    const pulls = visit.pullTest;
    const places = new Set(pulls.map((p) => p.site)).size;
    if (places < 2) return [];
    if (places !== sites || pulls.length !== sites)
      return [{ missing: `a pull test in each of ${sites} areas` }];
    return [{ inputs: { sites: places, came_out: pulls.reduce((sum, p) => sum + p.cameOut, 0) } }];
  },
  compute({ sites, came_out }, t) {
    const met = came_out > t.positive_above ? true : came_out <= t.normal_to ? false : null;
    const worked = `${came_out} hairs over ${sites} areas`;
    return {
      rules: [
        {
          met,
          criteria: [
            { id: "hairs", says: `more than ${t.positive_above} hairs in all`, met, kind: "single", worked },
          ],
          says: met === null ? "On the published limit." : met ? "Positive in total." : "Negative in total.",
          limits: t.limits,
        },
      ],
    };
  },
  examples: [
    {
      inputs: { sites: 4, came_out: 4 },
      gives: { "rule:hair-pull-total": false },
      from: "the published rule",
    },
    {
      inputs: { sites: 4, came_out: 5 },
      gives: { "rule:hair-pull-total": null },
      from: "the published limit is 4 to 5",
    },
    {
      inputs: { sites: 4, came_out: 6 },
      gives: { "rule:hair-pull-total": true },
      from: "the published rule",
    },
  ],
} satisfies ScoreModule<Inputs, z.infer<typeof table>>;
