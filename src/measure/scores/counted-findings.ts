/** Counted findings per field of view, with exact limits: from `count` of a finding, and yellow dots of counted fields. */

import { z } from "zod";
import type { FindingId } from "../../base/ids.js";
import { withCapital } from "../../base/text.js";
import { rateDraft } from "../drafts.js";
import { placedSites, sumFields } from "../fields.js";
import type { Collected, ScoreModule } from "../score-module.js";
import { spreadSchema } from "../statistics/spread.js";

interface Inputs {
  readonly finding: FindingId;
  readonly count: number;
  readonly fields: number;
  readonly each?: readonly number[];
}

const table = z.object({ spread: spreadSchema });

export const countedFindings = {
  id: "counted-findings",
  table,
  collect(visit) {
    const places: Collected<Inputs>[] = [];
    for (const { site, siteIndex, record } of placedSites(visit)) {
      const taken = new Set<string>();
      const add = (inputs: Inputs) => {
        if (inputs.fields < 1 || taken.has(inputs.finding)) return;
        taken.add(inputs.finding);
        places.push({ site, siteIndex, inputs });
      };
      for (const { finding, seen } of record.findings) {
        if (seen.state === "present" && seen.count) add({ finding, ...seen.count });
      }
      const dots = sumFields(record.fields, ["yellowDots"]);
      if (dots) {
        const { fields, sums, each } = dots;
        add({ finding: "yellow-dots", count: sums.yellowDots, fields, each: each.yellowDots });
      }
    }
    return places;
  },
  compute({ finding, count, fields, each }, { spread: { clumping, cv_percent } }) {
    const words = finding.replaceAll("-", " ");
    return {
      measured: [
        {
          id: `${finding}-per-field`,
          term: `${withCapital(words)} per field`,
          ...rateDraft(
            {
              count,
              exposure: fields,
              fields,
              published: { clumping, cv_percent },
              ...(each ? { each } : {}),
            },
            { unit: "per field", ucum: "/{field}", places: 1 },
          ),
        },
      ],
    };
  },
  examples: [
    {
      inputs: { finding: "black-dots", count: 10, fields: 1 },
      gives: {
        "black-dots-per-field": "10.0",
        "black-dots-per-field.low": "4.97",
        "black-dots-per-field.high": "18.18",
      },
      from: "arithmetic",
    },
    {
      inputs: { finding: "yellow-dots", count: 0, fields: 1 },
      gives: { "yellow-dots-per-field": "0.0", "yellow-dots-per-field.high": "3.689" },
      from: "Garwood 1936 limits of a count of 0, as restated",
    },
  ],
} satisfies ScoreModule<Inputs, z.infer<typeof table>>;
