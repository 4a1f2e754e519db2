/** Changes between two visits that are likelier slips of the pen than changes of the scalp. Limits: common practice. */
import type { Visit } from "../../visit/visit.js";
import { AREAS } from "../scores/extent-from-patches.js";
import type { MeasureChange } from "./types.js";

export interface JumpSlip {
  readonly id: "extent-tenfold" | "density-jump" | "diameter-jump";
  readonly message: string;
}

/** Scalp that is well covered at both visits does not change this many times over; regrowth of a bare patch does. */
const DENSITY_TIMES = 2.5;
const COVERED_PER_CM2 = 80;
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
    const covered = Math.min(a.value, b.value) >= COVERED_PER_CM2;
    if (id === "hair-density" && covered && times > DENSITY_TIMES)
      slips.push({ id: "density-jump", message });
    if (id === "shaft-diameter" && times > DIAMETER_TIMES) slips.push({ id: "diameter-jump", message });
  }
  return slips;
}
