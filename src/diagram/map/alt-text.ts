/** Says in sentences what the map shows, for a reader who cannot see it. */

import { fill } from "../../base/text.js";
import type { Extent, Region, Site } from "../../visit/visit.js";
import { HOME } from "../head/head.js";
import type { View } from "../head/head-view.js";
import type { MapWords } from "./phrases.js";
import { cutSites } from "./sites-in-view.js";

type Place = keyof MapWords["places"];
/** What left, right, up and down on the page mean on the patient. */
const MEANS: Readonly<Record<View, readonly [left: Place, right: Place, up: Place, down: Place]>> = {
  front: ["right", "left", "upper", "lower"],
  left: ["front", "back", "upper", "lower"],
  above: ["left", "right", "front", "back"],
  right: ["back", "front", "upper", "lower"],
  behind: ["left", "right", "upper", "lower"],
};

function placeWords(region: Region, at: { x: number; y: number }, words: MapWords): string {
  const [left, right, up, down] = MEANS[HOME[region]];
  const found: Place[] = [];
  if (at.y < 1 / 3) found.push(up);
  else if (at.y > 2 / 3) found.push(down);
  if (at.x < 1 / 3) found.push(left);
  else if (at.x > 2 / 3) found.push(right);
  const places = found.length === 0 ? (["centre"] as const) : found;
  return places.map((place) => words.places[place]).join(words.alt.and);
}

/** Length and width as printed: whole millimetres where they are whole. */
export function millimetres(value: number): string {
  return String(Math.round(value * 10) / 10);
}

/** Every numbered site, every patch and every estimated area, in `words`. */
export function altText(
  sites: readonly Site[],
  extent: Extent | undefined,
  words: MapWords,
  ageYears: number,
): string {
  const { alt } = words;
  const sentences = [
    sites.length === 0
      ? alt.openingNone
      : sites.length === 1
        ? alt.openingOne
        : fill(alt.opening, { count: sites.length }),
  ];
  sites.forEach((site, i) => {
    const region = words.regions[site.site];
    const details = [
      site.at === undefined || site.site === "whole scalp"
        ? region
        : fill(alt.place, { region, place: placeWords(site.site, site.at, words) }),
    ];
    if (site.patch !== undefined) {
      const { lengthMm, widthMm, margin } = site.patch;
      const patch = fill(alt.patch, { length: millimetres(lengthMm), width: millimetres(widthMm) });
      const edge = margin === undefined ? "" : words.margins[margin];
      details.push(edge === "" ? patch : `${patch} ${fill(alt.margin, { margin: edge })}`);
    }
    sentences.push(fill(alt.site, { number: i + 1, details: details.join(", ") }));
  });
  if (extent !== undefined && Object.keys(extent).length > 0) {
    const areas = (["top", "left", "right", "back"] as const).map((area) => areaWords(area, extent, words));
    sentences.push(fill(alt.extent, { title: words.legendTitle, areas: areas.join("; ") }));
  }
  if (sites.some((site) => site.patch !== undefined)) {
    sentences.push(ageYears < 18 ? words.childNote : alt.closing);
    sentences.push(...cutNotes(sites, words, ageYears));
  }
  return sentences.join(" ");
}

/** What the scale holds for, and which patches could not be drawn whole. */
export function scaleNotes(sites: readonly Site[], words: MapWords, ageYears: number): string {
  return [ageYears < 18 ? words.childNote : words.scaleNote, ...cutNotes(sites, words, ageYears)].join(" ");
}

function cutNotes(sites: readonly Site[], words: MapWords, ageYears: number): string[] {
  const cut = cutSites(sites, ageYears);
  return cut.length > 0 ? [fill(words.cutNote, { numbers: cut.join(", ") })] : [];
}

/** One area of the legend: its percent lost, or that it was not estimated. */
export function areaWords(area: keyof MapWords["areas"], extent: Extent, words: MapWords): string {
  const percent = extent[area];
  return percent === undefined
    ? fill(words.notEstimated, { area: words.areas[area] })
    : fill(words.lost, { area: words.areas[area], percent: Math.round(percent * 10) / 10 });
}
