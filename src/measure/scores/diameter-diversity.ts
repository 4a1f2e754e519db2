/** Share of hairs thinner than terminal: recorded as a count, or worked out from measured diameters. */
import { z } from "zod";
import { shareDraft } from "../drafts.js";
import { placedSites } from "../fields.js";
import { type Collected, recordedInputs, type ScoreModule } from "../score-module.js";

const table = z.object({
  above_percent: z.number(),
  terminal_above_um: z.number(),
  least_hairs: z.number(),
  caveat: z.string(),
  limits: z.string(),
});
type Table = z.infer<typeof table>;
interface Inputs {
  readonly thinner: number;
  readonly counted: number;
  /** True when the limit between thinner and terminal is ours to apply, false when the clinician counted. */
  readonly by_limit: boolean;
}

export const diameterDiversity = {
  id: "diameter-diversity",
  table,
  collect(visit, { terminal_above_um, least_hairs }) {
    const recorded = recordedInputs(visit, "diameter-diversity");
    const places: Collected<Inputs>[] = [];
    if (recorded) {
      const { thinner, counted } = recorded;
      if (thinner === undefined || counted === undefined || counted === 0 || thinner > counted) {
        places.push({ missing: "hairs thinner than terminal, and all hairs counted" });
      } else places.push({ inputs: { thinner, counted, by_limit: false } });
    }
    for (const { site, siteIndex, record } of placedSites(visit)) {
      const all = record.diametersUm;
      if (all.length === 0) continue;
      if (all.length < least_hairs) {
        places.push({ site, siteIndex, missing: `at least ${least_hairs} measured shaft diameters` });
        continue;
      }
      const thinner = all.filter((um) => um <= terminal_above_um).length;
      places.push({ site, siteIndex, inputs: { thinner, counted: all.length, by_limit: true } });
    }
    return places;
  },
  compute({ thinner, counted, by_limit }, t) {
    const percent = (100 * thinner) / counted;
    const met = percent > t.above_percent;
    return {
      measured: [{ ...shareDraft(thinner, counted), ...(by_limit ? { caveat: t.caveat } : {}) }],
      rules: [
        {
          met,
          criteria: [
            {
              id: "diversity",
              says: `more than ${t.above_percent} % of hairs thinner than terminal`,
              met,
              kind: "single",
              worked: `${thinner} of ${counted} is ${percent.toFixed(1)} %`,
            },
          ],
          says: met
            ? "Shaft diameters vary more than the published limit, which supports androgenetic alopecia."
            : "Shaft diameters do not vary beyond the published limit.",
          limits: by_limit ? `${t.limits} ${t.caveat}` : t.limits,
        },
      ],
    };
  },
  examples: [
    {
      inputs: { thinner: 12, counted: 50, by_limit: false },
      gives: {
        "diameter-diversity": "24.0",
        "diameter-diversity.low": "14.3",
        "diameter-diversity.high": "37.4",
        "rule:diameter-diversity": true,
      },
      from: "arithmetic",
    },
    {
      inputs: { thinner: 10, counted: 50, by_limit: false },
      gives: { "diameter-diversity": "20.0", "rule:diameter-diversity": false },
      from: "arithmetic; exactly on the limit is not above it",
    },
  ],
} satisfies ScoreModule<Inputs, Table>;
