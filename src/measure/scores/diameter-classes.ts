/** Shares of hairs in each class of shaft diameter, under the scheme of the table. */
import { z } from "zod";
import { shareDraft } from "../drafts.js";
import { placedSites } from "../fields.js";
import type { ScoreModule } from "../score-module.js";

const band = z.strictObject({
  class: z.string(),
  from_um: z.number().optional(),
  below_um: z.number().optional(),
});
const table = z.object({ scheme: z.string(), bands: z.array(band).min(2) });
type Band = z.infer<typeof band>;

function holds({ from_um = 0, below_um = Number.POSITIVE_INFINITY }: Band, um: number): boolean {
  return um >= from_um && um < below_um;
}

export const diameterClasses = {
  id: "diameter-classes",
  table,
  collect(visit) {
    return placedSites(visit)
      .filter(({ record }) => record.diametersUm.length > 0)
      .map(({ site, siteIndex, record }) => ({
        site,
        siteIndex,
        inputs: { diameters_um: record.diametersUm },
      }));
  },
  compute({ diameters_um }, { scheme, bands }) {
    return {
      measured: bands.map((b) => ({
        id: `diameter-${b.class}`,
        term: `Hairs in class ${b.class}`,
        ...shareDraft(diameters_um.filter((um) => holds(b, um)).length, diameters_um.length),
        band: `${bounds(b)} (${scheme})`,
      })),
    };
  },
  examples: [
    {
      inputs: { diameters_um: [29] },
      gives: { "diameter-vellus-like": "100", "diameter-intermediate": "0", "diameter-terminal": "0" },
      from: "arithmetic",
    },
    {
      inputs: { diameters_um: [55] },
      gives: {
        "diameter-vellus-like": "0",
        "diameter-intermediate": "100",
        "diameter-intermediate.band": "30 to under 60 µm (limits at 0.03 and 0.06 mm)",
        "diameter-terminal": "0",
      },
      from: "arithmetic",
    },
    {
      inputs: { diameters_um: [30, 60] },
      gives: {
        "diameter-vellus-like": "0",
        "diameter-intermediate": "50",
        "diameter-terminal": "50",
        "diameter-terminal.band": "from 60 µm (limits at 0.03 and 0.06 mm)",
      },
      from: "arithmetic; each class begins on its lower limit",
    },
  ],
} satisfies ScoreModule<{ diameters_um: readonly number[] }, z.infer<typeof table>>;

function bounds({ from_um, below_um }: Band): string {
  if (from_um === undefined) return `under ${below_um} µm`;
  return below_um === undefined ? `from ${from_um} µm` : `${from_um} to under ${below_um} µm`;
}
