/** Yellow dots over four fields at 70-fold, the form in which a healthy limit is published. */
import { z } from "zod";
import { placedSites, sumFields } from "../fields.js";
import type { Collected, ScoreModule } from "../score-module.js";
import { countLimits } from "../statistics/counting.js";

const table = z.object({ fields: z.number(), magnification: z.number() });

export const yellowDotsFourFields = {
  id: "yellow-dots-four-fields",
  table,
  collect(visit, { fields, magnification }) {
    if (visit.scope.magnification !== magnification) return [];
    return placedSites(visit).flatMap(({ site, siteIndex, record }): Collected<{ dots: number }>[] => {
      const counted = sumFields(record.fields, ["yellowDots"]);
      if (!counted) return [];
      return counted.fields === fields
        ? [{ site, siteIndex, inputs: { dots: counted.sums.yellowDots } }]
        : [{ site, siteIndex, missing: `yellow dots counted in exactly ${fields} fields` }];
    });
  },
  compute({ dots }, { fields }) {
    return {
      measured: [
        {
          value: dots,
          unit: `in ${fields} fields`,
          ucum: "{count}",
          ...countLimits(dots),
          n: dots,
          counted: { kind: "rate", count: dots, exposure: fields, fields },
          places: 0,
          method: "exact Poisson limits",
        },
      ],
    };
  },
  examples: [
    {
      inputs: { dots: 10 },
      gives: {
        "yellow-dots-four-fields": "10",
        "yellow-dots-four-fields.low": "4.80",
        "yellow-dots-four-fields.high": "18.39",
      },
      from: "Garwood 1936 limits of a count of 10, as restated",
    },
  ],
} satisfies ScoreModule<{ dots: number }, z.infer<typeof table>>;
