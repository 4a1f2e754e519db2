/** Mean, spread and variability of the shaft diameters measured at a site. */
import { z } from "zod";
import { meanDraft } from "../drafts.js";
import { placedSites } from "../fields.js";
import type { ScoreModule } from "../score-module.js";
import { logLimits, relativeVarianceOfCv, sdLimits, summarise } from "../statistics/means.js";

export const shaftDiameter = {
  id: "shaft-diameter",
  table: z.object({ spread_term: z.string(), variability_term: z.string() }),
  collect(visit) {
    const sites = placedSites(visit).filter(({ record }) => record.diametersUm.length > 0);
    if (sites.length === 0) return [{ missing: "measured shaft diameters" }];
    return sites.map(({ site, siteIndex, record }) => ({
      site,
      siteIndex,
      inputs: { diameters_um: record.diametersUm },
    }));
  },
  compute({ diameters_um }, table) {
    const summary = summarise(diameters_um);
    if (!summary) return { missing: [{ missing: "measured shaft diameters" }] };
    const unit = { unit: "µm", ucum: "um", places: 1 };
    const mean = meanDraft(summary, unit);
    const limits = sdLimits(summary);
    if (!limits) return { measured: [mean] };
    const cv = (100 * summary.sd) / summary.mean;
    return {
      measured: [
        mean,
        {
          id: "shaft-diameter-sd",
          term: table.spread_term,
          value: summary.sd,
          ...unit,
          ...limits,
          n: summary.n,
          method: "chi-square limits",
        },
        {
          id: "shaft-diameter-cv",
          term: table.variability_term,
          value: cv,
          unit: "%",
          ucum: "%",
          ...logLimits(cv, relativeVarianceOfCv(summary)),
          n: summary.n,
          places: 1,
          method: "log limits, delta method",
        },
      ],
    };
  },
  examples: [
    {
      inputs: { diameters_um: [61, 58, 44] },
      gives: { "shaft-diameter": "54.33", "shaft-diameter-sd": "9.07", "shaft-diameter-cv": "16.7" },
      from: "arithmetic",
    },
    { inputs: { diameters_um: [52] }, gives: { "shaft-diameter": "52.0" }, from: "arithmetic" },
  ],
} satisfies ScoreModule<
  { diameters_um: readonly number[] },
  { spread_term: string; variability_term: string }
>;
