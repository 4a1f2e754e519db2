/** Share of plucked hairs in each growth phase. */
import { z } from "zod";
import { withCapital } from "../../base/text.js";
import { shareDraft } from "../drafts.js";
import { collectRecorded, type ScoreModule } from "../score-module.js";

const PHASES = ["anagen", "catagen", "telogen", "dystrophic"] as const;
const table = z.object({
  raised_above: z.number(),
  hairs: z.tuple([z.number(), z.number()]),
  caveat: z.string(),
});

export const trichogram = {
  id: "trichogram",
  table,
  collect: (visit) => collectRecorded(visit, "trichogram", PHASES),
  compute(counts, { raised_above, hairs, caveat }) {
    const total = PHASES.reduce((sum, p) => sum + counts[p], 0);
    if (total === 0) return { missing: [{ missing: "plucked hairs" }] };
    const percent = (100 * counts.telogen) / total;
    const few =
      total < hairs[0] ? ` Only ${total} hairs were plucked; ${hairs[0]} to ${hairs[1]} are usual.` : "";
    const band = percent > raised_above ? "raised" : "not raised";
    return {
      measured: PHASES.map((phase) => ({
        id: `trichogram-${phase}`,
        term: `${withCapital(phase)} hairs on plucking`,
        ...shareDraft(counts[phase], total),
        caveat: `${caveat}${few}`,
        ...(phase === "telogen" ? { band } : {}),
      })),
    };
  },
  examples: [
    {
      inputs: { anagen: 78, catagen: 2, telogen: 20, dystrophic: 0 },
      gives: {
        "trichogram-anagen": "78.0",
        "trichogram-catagen": "2.0",
        "trichogram-telogen": "20.0",
        "trichogram-telogen.band": "not raised",
        "trichogram-dystrophic": "0.0",
      },
      from: "arithmetic; exactly on the limit is not above it",
    },
    {
      inputs: { anagen: 70, catagen: 2, telogen: 24, dystrophic: 4 },
      gives: {
        "trichogram-anagen": "70.0",
        "trichogram-catagen": "2.0",
        "trichogram-telogen": "24.0",
        "trichogram-telogen.band": "raised",
        "trichogram-dystrophic": "4.0",
      },
      from: "arithmetic",
    },
  ],
} satisfies ScoreModule<Readonly<Record<(typeof PHASES)[number], number>>, z.infer<typeof table>>;
