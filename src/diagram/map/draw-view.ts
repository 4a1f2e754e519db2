/** Draws one view of the head with its shading, patches and numbers. */
import { AREA_OF } from "../../visit/areas.js";
import type { Extent, Region, Site } from "../../visit/visit.js";
import { mapCurve, type Point } from "../curve.js";
import { headAt } from "../head/age.js";
import { HEAD } from "../head/head.js";
import type { View } from "../head/head-view.js";
import { curvePath, element } from "../svg.js";
import { headOnPaper } from "./head-on-paper.js";
import { drawPatch, halfAxes } from "./patch.js";
import { disc, leader } from "./pin.js";
import { type Anchor, discRadius, placePins } from "./place.js";
import { shadeOf } from "./shading.js";
import { sitesInView } from "./sites-in-view.js";

export interface ViewLook {
  /** Points to the millimetre of the grown head. */
  readonly scale: number;
  /** Points to the millimetre of this head. */
  readonly patchScale: number;
  readonly ageYears: number;
  readonly pinRadius: number;
  /** Fewer lines: only the borders of regions that carry a number, and every patch drawn alike. */
  readonly plain: boolean;
}

/** The whole-scalp number stands outside the head, towards the back on the right. */
const OUTSIDE: Point = [63, 181];

/** One view with the top left corner of its frame at `corner` (points); `sites` are all sites of the visit. */
export function drawView(
  view: View,
  corner: Point,
  sites: readonly Site[],
  extent: Extent | undefined,
  look: ViewLook,
): string {
  const { scale, patchScale, ageYears } = look;
  const [, , width, height] = headAt(view, ageYears).frame;
  const { onPaper, regions, lines, whorl } = headOnPaper(view, corner, scale, ageYears);
  const here = sitesInView(
    view,
    sites,
    regions.map(({ shape }) => shape),
  );
  const numbered = new Set<Region>(here.map(({ site }) => site.site));

  const ground = regions.map(({ region, d, shadedAs }) => {
    const area = AREA_OF[region];
    const percent = area === undefined ? undefined : extent?.[area];
    if (percent !== undefined && percent > 0) return shadedAs(shadeOf(percent));
    const brow = area === undefined;
    // Beside shades that mean an amount lost, a grey that means a place looked at would be read as one of them.
    const marked = numbered.has(region) && extent === undefined;
    const fill = brow ? "#c4c4c4" : marked ? "#ececec" : look.plain ? "#f7f7f7" : "#ffffff";
    return element("path", { d, fill });
  });
  const borders = regions
    .filter(({ region }) => !look.plain || numbered.has(region))
    .map(({ d, region }) =>
      element("path", {
        d,
        fill: "none",
        stroke: numbered.has(region) ? "#6b6b6b" : "#9a9a9a",
        "stroke-width": numbered.has(region) ? 0.55 : 0.35,
        "stroke-linejoin": "round",
      }),
    );

  const anchors = here.map(
    ({ site, number, shape, at }): Anchor & { readonly site: Site; readonly drawn: Point | undefined } => {
      const drawn =
        site.patch === undefined || shape === undefined ? undefined : halfAxes(site.patch, patchScale);
      // A number must not hide the eyebrow it speaks of, patch or none.
      const axes =
        drawn ??
        (AREA_OF[site.site] === undefined && shape !== undefined
          ? ([20 * scale, 4 * scale] as const)
          : undefined);
      return {
        site,
        number,
        region: site.site,
        at: onPaper(at ?? OUTSIDE),
        drawn,
        ...(axes === undefined ? {} : { patch: axes }),
      };
    },
  );
  const polygons = regions.map(({ polygon }) => polygon);
  // Smaller patches lie over larger ones.
  const patches = [...anchors]
    .sort((a, b) => areaOf(b.drawn) - areaOf(a.drawn))
    .map(({ at, drawn, site }) =>
      drawn === undefined ? "" : drawPatch(at, drawn, look.plain ? undefined : site.patch?.margin, polygons),
    );
  const room = {
    left: corner[0],
    top: corner[1],
    right: corner[0] + width * scale,
    bottom: corner[1] + height * scale,
  };
  const radius = discRadius(look.pinRadius, anchors.length, room);
  const pins = placePins(anchors, radius, room);

  return [
    ...ground,
    ...borders,
    ...patches,
    lines,
    numbered.has("vertex") ? "" : whorl,
    numbered.has("whole scalp") ? wholeScalp(onPaper) : "",
    ...pins.map((pin) => leader(pin.at, pin.disc, radius, pin.patch)),
    ...pins.map((pin) => disc(pin.number, pin.disc, radius)),
  ].join("");
}

const areaOf = (axes: Point | undefined): number => (axes ? axes[0] * axes[1] : 0);

/** A broken line round the head from above, for findings with no single place. */
function wholeScalp(onPaper: (p: Point) => Point): string {
  const outline = HEAD.above.outline[0] ?? [];
  const round = mapCurve(outline, ([x, y]) => onPaper([x * 1.09, 98 + (y - 98) * 1.06]));
  return element("path", {
    d: curvePath(round),
    fill: "none",
    stroke: "#333333",
    "stroke-width": 0.8,
    "stroke-dasharray": "3 2.4",
  });
}
