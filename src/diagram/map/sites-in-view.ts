/** Where the sites of a visit lie in a view of the head, and which patches run beyond the scalp that is drawn there. */
import type { Site } from "../../visit/visit.js";
import { flatten, type Point } from "../curve.js";
import { headAt, headSize } from "../head/age.js";
import { HOME } from "../head/head.js";
import { type RegionShape, VIEWS, type View } from "../head/head-view.js";
import { ellipse, inside } from "../polygon.js";
import { halfAxes } from "./patch.js";
import { pointIn, spread } from "./place.js";

export interface SiteInView {
  readonly site: Site;
  /** As in the findings table, from 1. */
  readonly number: number;
  /** Undefined for the whole scalp, which has no place of its own. */
  readonly shape: RegionShape | undefined;
  /** In the view's own millimetres; undefined without a shape. */
  readonly at: Point | undefined;
}

/** The sites that `view` shows, each at its recorded place or spread over its region. */
export function sitesInView(
  view: View,
  sites: readonly Site[],
  regions: readonly RegionShape[],
): SiteInView[] {
  const here = sites
    .map((site, i) => ({ site, number: i + 1 }))
    .filter(({ site }) => HOME[site.site] === view);
  return here.map(({ site, number }) => {
    const shape = regions.find(({ region }) => region === site.site);
    const same = here.filter((other) => other.site.site === site.site && other.site.at === undefined);
    const index = same.findIndex((other) => other.number === number);
    const place = (of: RegionShape): Point =>
      pointIn(of, site.at === undefined ? spread(index, same.length, of.read) : [site.at.x, site.at.y]);
    return { site, number, shape, at: shape && place(shape) };
  });
}

/** By the sites of a visit, whose map is planned at several widths before one is drawn. */
const cut = new WeakMap<
  readonly Site[],
  { readonly ageYears: number; readonly numbers: readonly number[] }
>();

/** Numbers of the sites whose patch is cut where the drawn scalp ends. */
export function cutSites(sites: readonly Site[], ageYears: number): readonly number[] {
  const known = cut.get(sites);
  if (known?.ageYears === ageYears) return known.numbers;
  const numbers = findCut(sites, ageYears);
  cut.set(sites, { ageYears, numbers });
  return numbers;
}

function findCut(sites: readonly Site[], ageYears: number): number[] {
  return VIEWS.flatMap((view) => {
    const { regions } = headAt(view, ageYears);
    let flat: (readonly Point[])[] | undefined;
    return sitesInView(view, sites, regions).flatMap(({ site, number, at }) => {
      if (!site.patch || !at) return [];
      const [across, along] = halfAxes(site.patch, 1 / headSize(ageYears));
      flat ??= regions.map(({ outline }) => flatten(outline));
      const outlines = flat;
      const isOn = (p: Point) => outlines.some((outline) => inside(outline, p));
      return ellipse(at, across, along, 72).every(isOn) ? [] : [number];
    });
  }).sort((a, b) => a - b);
}
