/** Counted hairs other than thin ones to vellus hairs at a site. A dermoscopic ratio: biopsy limits do not apply to it. */
import { z } from "zod";
import { fewFieldsCaveat, shareMethod } from "../drafts.js";
import { placedSites, sumFields } from "../fields.js";
import type { Collected, ScoreModule } from "../score-module.js";
import { oddsLimits, type PartOf } from "../statistics/proportions.js";
import { spreadOfShares } from "../statistics/spread.js";

interface Inputs {
  readonly terminal: number;
  readonly vellus: number;
  readonly each?: readonly PartOf[];
}

export const terminalVellus = {
  id: "terminal-vellus",
  table: z.object({ caveat: z.string() }),
  collect(visit) {
    const places: Collected<Inputs>[] = [];
    for (const { site, siteIndex, record } of placedSites(visit)) {
      const counted =
        sumFields(record.fields, ["hairs", "thin", "vellus"]) ??
        sumFields(record.fields, ["hairs", "vellus"]);
      if (!counted) continue;
      const { hairs, thin, vellus } = counted.sums;
      // Thin hairs take in the vellus ones; where only vellus hairs were counted, all others stand as terminal.
      const terminal = hairs - Math.max(thin, vellus);
      if (terminal < 0) continue;
      const each = counted.each.hairs.map((all, i) => {
        const [fine, thinnest] = [counted.each.thin[i] ?? 0, counted.each.vellus[i] ?? 0];
        const part = Math.max(0, all - Math.max(fine, thinnest));
        return { part, of: part + thinnest };
      });
      places.push({ site, siteIndex, inputs: { terminal, vellus, each } });
    }
    return places;
  },
  compute({ terminal, vellus, each }, { caveat }) {
    if (vellus === 0) return { missing: [{ missing: "any vellus hair (over zero the ratio has no value)" }] };
    const { times, from } = spreadOfShares(each ? [each] : []);
    return {
      measured: [
        {
          value: terminal / vellus,
          unit: "to 1",
          ucum: "1",
          ...oddsLimits(terminal, terminal + vellus, times),
          n: terminal + vellus,
          places: 1,
          method: shareMethod("Wilson limits of the share, as odds", from),
          caveat: [caveat, fewFieldsCaveat(each).caveat].filter(Boolean).join(" "),
        },
      ],
    };
  },
  examples: [
    { inputs: { terminal: 75, vellus: 4 }, gives: { "terminal-vellus": "18.8" }, from: "arithmetic" },
    { inputs: { terminal: 40, vellus: 0 }, gives: { "missing:terminal-vellus": true }, from: "arithmetic" },
  ],
} satisfies ScoreModule<Inputs, { caveat: string }>;
