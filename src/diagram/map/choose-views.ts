/** Decides which views of the head a map needs: as few as tell the place, always enough to know one's way. */
import type { Extent, Region } from "../../visit/visit.js";
import { HOME } from "../head/head.js";
import { VIEWS, type View } from "../head/head-view.js";

const AREA_VIEW = { top: "above", left: "left", right: "right", back: "behind" } as const;

/** The views for these regions and this extent, in the order they stand on paper. */
export function chooseViews(regions: readonly Region[], extent: Extent | undefined): View[] {
  const needed = new Set<View>(regions.map((region) => HOME[region]));
  if (extent !== undefined) {
    for (const area of ["top", "left", "right", "back"] as const) {
      if ((extent[area] ?? 0) > 0) needed.add(AREA_VIEW[area]);
    }
  }
  // From above one sees front, back and both sides at once: it helps where another view would stand alone.
  if (needed.size < 2) needed.add("above");
  return VIEWS.filter((view) => needed.has(view));
}
