/** Severity of scalp psoriasis: three signs added, times a grade for the share of the scalp they cover. */
import { z } from "zod";
import { pointsDraft } from "../drafts.js";
import { collectRecorded, type ScoreModule } from "../score-module.js";
import { bandOf, wholeBands } from "../whole-bands.js";

const KEYS = ["redness", "thickness", "scale", "area_percent"] as const;
const table = z.object({ area: wholeBands, caveat: z.string(), plain: z.string() });

export const pssi = {
  id: "pssi",
  table,
  collect: (visit) => collectRecorded(visit, "pssi", KEYS),
  compute({ redness, thickness, scale, area_percent }, { area, caveat }) {
    const value = (redness + thickness + scale) * Number(bandOf(area_percent, area));
    return { measured: [{ ...pointsDraft(value, "of 72", "{score}", 0), caveat }] };
  },
  examples: [
    {
      inputs: { redness: 2, thickness: 3, scale: 2, area_percent: 40 },
      gives: { pssi: "21" },
      from: "(2 + 3 + 2) x 3",
    },
    {
      inputs: { redness: 4, thickness: 4, scale: 4, area_percent: 90 },
      gives: { pssi: "72" },
      from: "all top marks x 6",
    },
    {
      inputs: { redness: 1, thickness: 0, scale: 0, area_percent: 0 },
      gives: { pssi: "0" },
      from: "no area",
    },
    {
      inputs: { redness: 1, thickness: 0, scale: 0, area_percent: 0.2 },
      gives: { pssi: "1" },
      from: "any area is at least the first step",
    },
    {
      inputs: { redness: 1, thickness: 0, scale: 0, area_percent: 9.4 },
      gives: { pssi: "1" },
      from: "rounded down to 9",
    },
    {
      inputs: { redness: 1, thickness: 0, scale: 0, area_percent: 9.5 },
      gives: { pssi: "2" },
      from: "rounded up to 10",
    },
    {
      inputs: { redness: 0, thickness: 1, scale: 0, area_percent: 29.5 },
      gives: { pssi: "3" },
      from: "rounded up to 30",
    },
    {
      inputs: { redness: 0, thickness: 0, scale: 1, area_percent: 49 },
      gives: { pssi: "3" },
      from: "last of its step",
    },
    {
      inputs: { redness: 0, thickness: 0, scale: 1, area_percent: 50 },
      gives: { pssi: "4" },
      from: "first of its step",
    },
    {
      inputs: { redness: 0, thickness: 0, scale: 1, area_percent: 70 },
      gives: { pssi: "5" },
      from: "first of its step",
    },
    {
      inputs: { redness: 0, thickness: 0, scale: 1, area_percent: 89 },
      gives: { pssi: "5" },
      from: "last of its step",
    },
  ],
} satisfies ScoreModule<Readonly<Record<(typeof KEYS)[number], number>>, z.infer<typeof table>>;
