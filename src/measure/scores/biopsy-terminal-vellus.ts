/** Terminal to vellus hairs on a horizontally cut scalp biopsy, as the pathologist counted them. */
import { z } from "zod";
import { collectRecorded, type ScoreModule } from "../score-module.js";
import { oddsLimits } from "../statistics/proportions.js";

const table = z.object({
  below: z.object({ ratio: z.number(), says: z.string() }),
});

export const biopsyTerminalVellus = {
  id: "biopsy-terminal-vellus",
  table,
  collect: (visit) => collectRecorded(visit, "biopsy-terminal-vellus", ["terminal", "vellus"]),
  compute({ terminal, vellus }, { below }) {
    if (vellus === 0) return { missing: [{ missing: "any vellus hair (over zero the ratio has no value)" }] };
    const value = terminal / vellus;
    const band = value < below.ratio ? below.says : undefined;
    return {
      measured: [
        {
          value,
          unit: "to 1",
          ucum: "1",
          ...oddsLimits(terminal, terminal + vellus),
          n: terminal + vellus,
          places: 1,
          method: "Wilson limits of the share, as odds",
          ...(band ? { band } : {}),
        },
      ],
    };
  },
  examples: [
    {
      inputs: { terminal: 21, vellus: 7 },
      gives: {
        "biopsy-terminal-vellus": "3.0",
        "biopsy-terminal-vellus.band": "supports female pattern hair loss",
      },
      from: "arithmetic",
    },
    {
      inputs: { terminal: 28, vellus: 7 },
      gives: { "biopsy-terminal-vellus": "4.0", "biopsy-terminal-vellus.band": null },
      from: "arithmetic; exactly on the limit is not below it",
    },
  ],
} satisfies ScoreModule<{ terminal: number; vellus: number }, z.infer<typeof table>>;
