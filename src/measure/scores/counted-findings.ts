/** Counted findings per field of view, with exact limits: from `count` of a finding, and yellow dots of counted fields. */
import { z } from "zod";
import { rateDraft } from "../drafts.js";
import { placedSites, sumFields } from "../fields.js";
import type { ScoreModule, Taken } from "../score.js";

interface Inputs {
  readonly finding: string;
  readonly count: number;
  readonly fields: number;
}

export const countedFindings = {
  id: "counted-findings",
  table: z.object({}),
  take(visit) {
    const places: Taken<Inputs>[] = [];
    for (const { site, siteIndex, record } of placedSites(visit)) {
      const taken = new Set<string>();
      const add = (finding: string, count: number, fields: number) => {
        if (fields < 1 || taken.has(finding)) return;
        taken.add(finding);
        places.push({ site, siteIndex, inputs: { finding, count, fields } });
      };
      for (const { finding, seen } of record.findings) {
        if (seen.state === "present" && seen.count) add(finding, seen.count.count, seen.count.fields);
      }
      const dots = sumFields(record.fields, ["yellowDots"]);
      if (dots) add("yellow-dots", dots.sums.yellowDots, dots.fields);
    }
    return places;
  },
  work({ finding, count, fields }) {
    const words = finding.replaceAll("-", " ");
    return {
      measured: [
        {
          id: `${finding}-per-field`,
          term: `${words.charAt(0).toUpperCase()}${words.slice(1)} per field`,
          ...rateDraft(count, fields, fields, { unit: "per field", ucum: "/{field}", places: 1 }),
        },
      ],
    };
  },
  examples: [
    {
      inputs: { finding: "black-dots", count: 10, fields: 1 },
      gives: {
        "black-dots-per-field": "10.0",
        "black-dots-per-field.low": "4.80",
        "black-dots-per-field.high": "18.39",
      },
      from: "Garwood 1936 limits of a count of 10, as restated",
    },
    {
      inputs: { finding: "yellow-dots", count: 0, fields: 1 },
      gives: { "yellow-dots-per-field": "0.0", "yellow-dots-per-field.high": "3.689" },
      from: "Garwood 1936 limits of a count of 0, as restated",
    },
  ],
} satisfies ScoreModule<Inputs>;
