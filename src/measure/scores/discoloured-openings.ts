/** Share of follicular units with discoloration round the opening, over fields where both were counted. */
import { z } from "zod";
import { shareDraft } from "../drafts.js";
import { placedSites, singleUnits, sumFields, sumUnits } from "../fields.js";
import type { Collected, ScoreModule } from "../score-module.js";
import type { PartOf } from "../statistics/proportions.js";

interface Inputs {
  readonly discoloured: number;
  readonly units: number;
  readonly each?: readonly PartOf[];
}

export const discolouredOpenings = {
  id: "discoloured-openings",
  table: z.object({}),
  collect(visit) {
    const places: Collected<Inputs>[] = [];
    for (const { site, siteIndex, record } of placedSites(visit)) {
      if (record.fields.every((f) => f.discolouredOpenings === undefined)) continue;
      const both = record.fields.filter((f) => f.units !== undefined);
      const counted = sumFields(both, ["discolouredOpenings"]);
      const units = sumUnits(both.filter((f) => f.discolouredOpenings !== undefined));
      const total = [...(units?.values() ?? [])].reduce((a, b) => a + b, 0);
      if (!counted || total === 0) {
        places.push({ site, siteIndex, missing: "follicular units counted in the same field" });
        continue;
      }
      const discoloured = counted.sums.discolouredOpenings;
      const each = both.flatMap(({ discolouredOpenings: part, ...field }): PartOf[] =>
        part === undefined ? [] : [{ part, of: singleUnits(field).of }],
      );
      places.push(
        discoloured > total
          ? { site, siteIndex, missing: "a count of discoloured openings that fits among all units" }
          : { site, siteIndex, inputs: { discoloured, units: total, each } },
      );
    }
    return places;
  },
  compute: ({ discoloured, units, each }) => ({ measured: [shareDraft(discoloured, units, each)] }),
  examples: [
    { inputs: { discoloured: 12, units: 50 }, gives: { "discoloured-openings": "24.0" }, from: "arithmetic" },
  ],
} satisfies ScoreModule<Inputs>;
