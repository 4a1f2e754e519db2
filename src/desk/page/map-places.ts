/** Between a point on the drawn head and a place in the file: region, and how far into it from its left and top. */
import { flatten, type Point } from "../../diagram/curve.js";
import { HEAD, HOME } from "../../diagram/head/head.js";
import type { HeadView, RegionShape, View } from "../../diagram/head/head-view.js";
import { pointIn, spread } from "../../diagram/map/place.js";
import { boxOf, inside, rowsInside } from "../../diagram/polygon.js";
import type { Region } from "../../visit/visit.js";

/** Where each view stands on the page's map, in millimetres of the head. */
export interface PlacedView {
  readonly head: HeadView;
  readonly left: number;
  readonly top: number;
}

const GAP = 14;
const ROWS: readonly (readonly View[])[] = [
  ["left", "above", "right"],
  ["front", "behind"],
];

const WIDTH = 660;
const CAPTION = 18;

function placed(): { views: readonly PlacedView[]; height: number } {
  const views: PlacedView[] = [];
  let top = 0;
  for (const row of ROWS) {
    const heads = row.map((view) => HEAD[view]);
    const width = heads.reduce((sum, head) => sum + head.frame[2], 0) + GAP * (heads.length - 1);
    const height = Math.max(...heads.map((head) => head.frame[3]));
    let left = (WIDTH - width) / 2;
    for (const head of heads) {
      views.push({
        head,
        left: left - head.frame[0],
        top: top + (height - head.frame[3]) / 2 - head.frame[1],
      });
      left += head.frame[2] + GAP;
    }
    top += height + CAPTION + 6;
  }
  return { views, height: top };
}

export const MAP = { ...placed(), width: WIDTH, caption: CAPTION };

export interface SitePlace {
  readonly site: Region;
  readonly at?: { readonly x: number; readonly y: number };
}

/** The point of each site on the map; the whole scalp stands beside the crown. */
export function pointsOf(sites: readonly (SitePlace | null)[]): (Point | null)[] {
  return sites.map((place) => {
    if (!place) return null;
    const view = MAP.views.find(({ head }) => head.view === HOME[place.site]);
    if (!view) return null;
    const shape = view.head.regions.find(({ region }) => region === place.site);
    if (!shape) return [view.left + 74, view.top + 186];
    const same = sites.filter((other) => other?.site === place.site && !other.at);
    const at: Point = place.at
      ? [place.at.x, place.at.y]
      : spread(same.indexOf(place), same.length, shape.read);
    const [x, y] = pointIn(shape, at);
    return [view.left + x, view.top + y];
  });
}

export interface Tapped {
  readonly region: Region;
  /** Missing when another view shows the region better. */
  readonly at?: { readonly x: number; readonly y: number };
}

/** What lies under a point of the map. */
export function under([x, y]: Point): Tapped | undefined {
  for (const { head, left, top } of MAP.views) {
    const point: Point = [x - left, y - top];
    const shape = head.regions.find(({ outline }) => inside(flatten(outline), point));
    if (shape)
      return HOME[shape.region] === head.view
        ? { region: shape.region, at: within(shape, point) }
        : { region: shape.region };
  }
  return undefined;
}

/** The place of a point in a region, however far outside it was dragged. */
export function placeIn(region: Region, [x, y]: Point): { x: number; y: number } | undefined {
  const view = MAP.views.find(({ head }) => head.view === HOME[region]);
  const shape = view?.head.regions.find((s) => s.region === region);
  return view && shape ? within(shape, [x - view.left, y - view.top]) : undefined;
}

/** The reverse of `pointIn`: how far along, then how far across what lies inside at that height. */
function within(shape: RegionShape, point: Point): { x: number; y: number } {
  const swap = ([a, b]: Point): Point => [b, a];
  const rows = shape.read === "rows";
  const polygon = flatten(shape.outline);
  const turned = rows ? polygon : polygon.map(swap);
  const [across, along] = rows ? point : swap(point);
  const box = boxOf(turned);
  const level = Math.min(box.bottom - 0.01, Math.max(box.top + 0.01, along));
  const spans = rowsInside(turned, level);
  const total = spans.reduce((sum, [from, to]) => sum + to - from, 0);
  const before = spans.reduce((sum, [from, to]) => sum + Math.min(Math.max(across - from, 0), to - from), 0);
  const open = (t: number) => Math.round(Math.min(1, Math.max(0, (t - 0.04) / 0.92)) * 100) / 100;
  const found: Point = [
    open(total > 0 ? before / total : 0.5),
    open((level - box.top) / (box.bottom - box.top)),
  ];
  const [px, py] = rows ? found : swap(found);
  return { x: px, y: py };
}
