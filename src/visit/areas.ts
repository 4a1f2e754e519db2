/** The four areas of the scalp whose loss is estimated in percent, and the area that each region counts towards. */
import type { Region } from "./terms.js";

export const AREAS = ["top", "left", "right", "back"] as const;
export type Area = (typeof AREAS)[number];

/** Eyebrows and the whole scalp count towards none (mapping from memory). */
export const AREA_OF: Readonly<Partial<Record<Region, Area>>> = {
  "frontal hairline": "top",
  frontal: "top",
  "mid-scalp": "top",
  vertex: "top",
  "left temporal": "left",
  "left parietal": "left",
  "right temporal": "right",
  "right parietal": "right",
  occipital: "back",
  nape: "back",
};
