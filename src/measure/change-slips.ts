/** Changes between two visits that are likelier slips of the pen than changes of the scalp. Limits: common practice. */
import type { Visit } from "../visit/visit.js";
import type { MeasureChange } from "./change-types.js";
import { AREAS } from "./scores/extent-from-patches.js";

export interface JumpSlip {
  readonly id: "extent-tenfold" | "density-jump" | "diameter-jump";
  readonly message: string;
}

/** Hairs per cm² do not more than double, nor halve twice over, between visits; mean shafts change by less than half. */
const DENSITY_TIMES = 2.5;
const DIAMETER_TIMES = 1.6;

/** Likely slips in one of the two visits. */
export function jumpSlips(
  before: Visit,
  after: Visit,
  changes: readonly MeasureChange[],
): readonly JumpSlip[] {
  const slips: JumpSlip[] = [];
  for (const area of AREAS) {
    const [a, b] = [before.extent?.[area], after.extent?.[area]];
    if (a === undefined || b === undefined || Math.max(a, b) < 20) continue;
    if (a === 10 * b || b === 10 * a) {
      slips.push({ id: "extent-tenfold", message: `hair loss of the ${area}: ${a} %, then ${b} %` });
    }
  }
  for (const { id, site, before: a, after: b, verdict, places, unit } of changes) {
    if (verdict !== "more than counting error" || a.value === 0 || b.value === 0) continue;
    const times = Math.max(a.value / b.value, b.value / a.value);
    const message = `${site}: ${a.value.toFixed(places)} ${unit}, then ${b.value.toFixed(places)} ${unit}`;
    if (id === "hair-density" && times > DENSITY_TIMES) slips.push({ id: "density-jump", message });
    if (id === "shaft-diameter" && times > DIAMETER_TIMES) slips.push({ id: "diameter-jump", message });
  }
  return slips;
}
