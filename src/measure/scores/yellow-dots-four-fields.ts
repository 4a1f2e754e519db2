/** Yellow dots over four fields at 70-fold, the form in which a healthy limit is published. */
import { z } from "zod";
import { rateDraft } from "../drafts.js";
import { placedSites, sumFields } from "../fields.js";
import type { Collected, ScoreModule } from "../score-module.js";
import { spreadSchema } from "../statistics/spread.js";

interface Inputs {
  readonly dots: number;
  readonly each?: readonly number[];
}

const table = z.object({ fields: z.number(), magnification: z.number(), spread: spreadSchema });

export const yellowDotsFourFields = {
  id: "yellow-dots-four-fields",
  table,
  collect(visit, { fields, magnification }) {
    if (visit.scope.magnification !== magnification) return [];
    return placedSites(visit).flatMap(({ site, siteIndex, record }): Collected<Inputs>[] => {
      const counted = sumFields(record.fields, ["yellowDots"]);
      if (!counted) return [];
      return counted.fields === fields
        ? [{ site, siteIndex, inputs: { dots: counted.sums.yellowDots, each: counted.each.yellowDots } }]
        : [{ site, siteIndex, missing: `yellow dots counted in exactly ${fields} fields` }];
    });
  },
  compute({ dots, each }, { fields, spread: { clumping, cv_percent } }) {
    return {
      measured: [
        rateDraft(
          {
            count: dots,
            exposure: 1,
            fields,
            published: { clumping, cv_percent },
            ...(each ? { each } : {}),
          },
          { unit: `in ${fields} fields`, ucum: "{count}", places: 0 },
        ),
      ],
    };
  },
  examples: [
    {
      inputs: { dots: 10 },
      gives: {
        "yellow-dots-four-fields": "10",
        "yellow-dots-four-fields.low": "5.10",
        "yellow-dots-four-fields.high": "17.85",
      },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<Inputs, z.infer<typeof table>>;
