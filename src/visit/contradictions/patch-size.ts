/** A patch larger than the region it lies in, or than the head. */
import { type CheckContext, entries } from "../check-context.js";
import type { Region } from "../terms.js";

/** Rough length and breadth of each region on an adult head, millimetres; ours, to find slips (common practice). */
const REGION_MM: Readonly<Record<Region, readonly [number, number]>> = {
  "frontal hairline": [180, 40],
  frontal: [140, 90],
  "mid-scalp": [150, 110],
  vertex: [140, 120],
  "left temporal": [110, 90],
  "right temporal": [110, 90],
  "left parietal": [150, 120],
  "right parietal": [150, 120],
  occipital: [170, 120],
  nape: [150, 70],
  "left eyebrow": [65, 20],
  "right eyebrow": [65, 20],
  "whole scalp": [330, 300],
};
/** Nothing on one head is longer than the scalp from brow to nape, with room to spare. */
const LONGEST_MM = 350;
/** How many times the region a patch may be before it is a warning, and before it is an error. */
const SPILLS = 1.15;
const IMPOSSIBLE = 1.6;

export function patchSize({ file, report }: CheckContext): void {
  for (const [i, { site, patch }] of entries(file.sites)) {
    const { length_mm: length, width_mm: width } = patch ?? {};
    if (length === undefined || width === undefined) continue;
    const path = ["sites", i, "patch"];
    const long = Math.max(length, width);
    const short = Math.min(length, width);
    if (long > LONGEST_MM) {
      report("patch-exceeds-head", [...path, length >= width ? "length_mm" : "width_mm"], {
        message: `a patch of ${length} by ${width} mm is larger than a scalp`,
        expected: `at most ${LONGEST_MM} mm`,
      });
    } else if (site && over(long, short, REGION_MM[site]) > SPILLS) {
      report("patch-exceeds-region", path, {
        message: `a patch of ${length} by ${width} mm is larger than the ${site} region (about ${REGION_MM[site].join(" by ")} mm)`,
        expected: "a patch that fits, or one entry for each region it reaches into",
        severity: over(long, short, REGION_MM[site]) > IMPOSSIBLE ? "error" : "warning",
      });
    } else if (width > length) {
      report("patch-turned", path, {
        message: `the patch is wider (${width} mm) than long (${length} mm)`,
        expected: "the longer measure as length_mm",
      });
    }
  }
}

/** How many times longer or broader than the region, whichever is more. */
const over = (long: number, short: number, [length, breadth]: readonly [number, number]) =>
  Math.max(long / length, short / breadth);
