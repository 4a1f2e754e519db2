/** Shares of hairs by shaft diameter under a named scheme, since schemes disagree above 0.03 mm. */
import { z } from "zod";
import { shareDraft } from "../drafts.js";
import { placedSites } from "../fields.js";
import type { ScoreModule } from "../score-module.js";

const band = z.strictObject({
  class: z.string(),
  from_um: z.number().optional(),
  above_um: z.number().optional(),
  to_um: z.number().optional(),
  below_um: z.number().optional(),
  how: z.enum(["read", "abstract", "memory"]),
});
const scheme = z.strictObject({ term: z.string(), source: z.string(), bands: z.array(band).min(2) });
const table = z.object({ printed: z.string(), schemes: z.record(z.string(), scheme) });
type Table = z.infer<typeof table>;
type Band = z.infer<typeof band>;

/** Class of one hair under a scheme of the table; undefined for an unknown scheme or a diameter no class takes. */
export function diameterClass(um: number, schemeId: string, { schemes }: Table): string | undefined {
  return schemes[schemeId]?.bands.find((b) => holds(b, um))?.class;
}

function holds(b: Band, um: number): boolean {
  return (
    (b.from_um === undefined || um >= b.from_um) &&
    (b.above_um === undefined || um > b.above_um) &&
    (b.to_um === undefined || um <= b.to_um) &&
    (b.below_um === undefined || um < b.below_um)
  );
}

export const diameterClasses = {
  id: "diameter-classes",
  table,
  collect(visit, { printed }) {
    return placedSites(visit)
      .filter(({ record }) => record.diametersUm.length > 0)
      .map(({ site, siteIndex, record }) => ({
        site,
        siteIndex,
        inputs: { scheme: printed, diameters_um: record.diametersUm },
      }));
  },
  compute({ scheme: id, diameters_um }, { schemes }) {
    const chosen = schemes[id];
    if (!chosen) return { missing: [{ missing: `a scheme named ${id}` }] };
    return {
      measured: chosen.bands.map((b) => ({
        id: `diameter-${b.class}`,
        term: `Hairs in class ${b.class}`,
        ...shareDraft(diameters_um.filter((um) => holds(b, um)).length, diameters_um.length),
        band: `${bounds(b)} (${chosen.term})`,
        source: chosen.source,
        fromMemory: b.how === "memory",
      })),
    };
  },
  examples: [
    {
      inputs: { scheme: "trichoscopy-3-class", diameters_um: [29] },
      gives: { "diameter-thin": "100", "diameter-medium": "0", "diameter-thick": "0" },
      from: "arithmetic",
    },
    {
      inputs: { scheme: "trichoscopy-3-class", diameters_um: [55] },
      gives: { "diameter-thick": "100" },
      from: "arithmetic",
    },
    {
      inputs: { scheme: "vellus-intermediate-terminal-0-06", diameters_um: [55] },
      gives: { "diameter-intermediate": "100", "diameter-terminal": "0" },
      from: "arithmetic; the same hair, another class",
    },
    {
      inputs: { scheme: "trichoscopy-3-class", diameters_um: [30, 50] },
      gives: { "diameter-thin": "0", "diameter-medium": "100" },
      from: "arithmetic; both ends of the middle class",
    },
  ],
} satisfies ScoreModule<{ scheme: string; diameters_um: readonly number[] }, Table>;

function bounds(b: Band): string {
  const low = b.from_um ?? b.above_um;
  const high = b.to_um ?? b.below_um;
  if (low === undefined) return `${b.to_um === undefined ? "under" : "up to"} ${high} µm`;
  if (high === undefined) return `${b.from_um === undefined ? "over" : "from"} ${low} µm`;
  return `${low} to ${b.to_um === undefined ? "under " : ""}${high} µm`;
}
