/** Slips in extent and patches: percent against millimetres, and both against what was counted. Limits: common practice. */
import { AREA_OF } from "../../visit/areas.js";
import type { Visit } from "../../visit/visit.js";
import { AREAS } from "../scores/extent-from-patches.js";
import type { Measures } from "../types.js";
import { type Check, measuredAt, type Slip } from "./slip.js";

/** A recorded percentage this many times the patches, or a patch this many times the percentage, is a slip. */
const TIMES = 4;
/** Patches left out or a rough eye account for this many points. */
const POINTS = 15;
const TINY_MM = 5;
/** Percent from which an area counts as nearly bare. */
const BARE_PERCENT = 90;
/** Hairs per cm²: surely covered above, surely almost bare below. */
const COVERED = 80;
const ALMOST_NONE = 20;

export const extentChecks: readonly Check[] = [extentAgainstPatches, patchSizes, extentAgainstDensity];

function extentAgainstPatches(visit: Visit, measures: Measures): readonly Slip[] {
  return AREAS.flatMap((area): Slip[] => {
    const recorded = visit.extent?.[area];
    const patches = measuredAt(measures, `extent-from-patches-${area}`);
    if (recorded === undefined || !patches) return [];
    const { value, low = 0, high = 100 } = patches;
    const found = `${recorded} % recorded, patches of about ${value.toFixed(1)} %`;
    const path = `extent.${area}`;
    if (recorded === 0)
      return [{ id: "extent-zero-with-patch", severity: "warning", path, message: `${area}: ${found}` }];
    if (recorded >= TIMES * high && recorded - high >= POINTS)
      return [{ id: "extent-over-patches", severity: "warning", path, message: `${area}: ${found}` }];
    if (low >= TIMES * recorded && low - recorded >= POINTS / 3)
      return [{ id: "extent-under-patches", severity: "warning", path, message: `${area}: ${found}` }];
    return [];
  });
}

function patchSizes(visit: Visit, measures: Measures): readonly Slip[] {
  const slips: Slip[] = [];
  for (const area of AREAS) {
    const patches = measuredAt(measures, `extent-from-patches-${area}`);
    if (patches?.low !== undefined && patches.low >= 100)
      slips.push({
        id: "patch-over-area",
        severity: "warning",
        path: "sites",
        message: `the patches of the ${area} are larger than that whole area of scalp`,
      });
  }
  visit.sites.forEach(({ site, patch }, i) => {
    if (patch && patch.lengthMm <= TINY_MM && patch.widthMm <= TINY_MM)
      slips.push({
        id: "patch-tiny",
        severity: "note",
        path: `sites[${i}].patch`,
        message: `the patch at the ${site} is ${patch.lengthMm} by ${patch.widthMm} mm`,
      });
  });
  return slips;
}

function extentAgainstDensity(visit: Visit, measures: Measures): readonly Slip[] {
  return visit.sites.flatMap(({ site }, i): Slip[] => {
    const area = AREA_OF[site];
    const recorded = area && visit.extent?.[area];
    const density = measuredAt(measures, "hair-density", i);
    if (recorded === undefined || !density) return [];
    const found = `${recorded} % loss of the ${area}, ${density.value.toFixed(0)} hairs per cm² at the ${site}`;
    const path = `extent.${area}`;
    if (recorded >= BARE_PERCENT && (density.low ?? 0) > COVERED)
      return [{ id: "loss-with-full-density", severity: "warning", path, message: found }];
    if (recorded === 0 && (density.high ?? Number.POSITIVE_INFINITY) < ALMOST_NONE)
      return [{ id: "bare-field-without-loss", severity: "warning", path, message: found }];
    return [];
  });
}
