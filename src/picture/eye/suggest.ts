/**
 * The helping eye: hairs that a picture seems to show. They are suggestions, never marks: nothing here counts until a person
 * accepts it. Ridges (Frangi 1998, Steger 1998) become strands, strands have a width from their profile and an end at which
 * they leave the skin.
 */

import { counts } from "../geometry.js";
import type { Area, Point } from "../marks.js";
import { type Grey, greyOf, halved, type Rgba, unseen } from "./grey.js";
import { type Profile, profileAt } from "./profile.js";
import { ridgesOf } from "./ridges.js";
import { rootsOf } from "./roots.js";
import { type Strand, strandsOf } from "./strands.js";

export interface SuggestedHair {
  /** Where it seems to leave the skin. */
  readonly at: Point;
  /** Its other end. */
  readonly tip: Point;
  /** Along the hair, for drawing. */
  readonly path: readonly Point[];
  /** Hairs of one number seem to leave the skin together. */
  readonly unit: number;
  readonly widthPx?: number;
  /** A line across the shaft, where it is seen clearest. */
  readonly across?: { readonly from: Point; readonly to: Point };
  /** How clearly it is seen, against the faintest that is told; from 1. */
  readonly clear: number;
}

export type EyeWarning = "blur" | "glare" | "crossing" | "faint" | "crowded";

export interface Suggestions {
  readonly hairs: readonly SuggestedHair[];
  /** Hairs darker or lighter than the skin. */
  readonly lighter: boolean;
  readonly blurPx?: number;
  /** Part of what is seen that shows the lamp. */
  readonly glare: number;
  /** Where the eye is known to be poor, and this picture is such. */
  readonly warnings: readonly EyeWarning[];
}

/** What is looked at has at most so many pixels; larger pictures are halved, and widths taken from the whole one. */
const MOST_PIXELS = 1_200_000;
/** Shorter strands are no hairs, in pixels of what is looked at. */
const SHORTEST = 14;

/** Pictures on which the report of tests/picture shows the eye to be poor. */
const POOR = { blurPx: 1.6, glare: 0.01, crossing: 0.35, clear: 2.2, perMegapixel: 260 };

/** Suggestions for a picture; those outside the `area`, when one is given, are left out. */
export function suggest(picture: Rgba, area?: Area): Suggestions {
  const whole = greyOf(picture);
  let grey: Grey = whole;
  let factor = 1;
  while (grey.width * grey.height > MOST_PIXELS) {
    grey = halved(grey);
    factor *= 2;
  }
  const { mask, glare } = unseen(grey, 6);
  const lighter = isLighter(grey);
  const sign = lighter ? -1 : 1;
  const ridges = ridgesOf(grey, sign);
  const strands = strandsOf(ridges, mask, SHORTEST);
  const profiles = strands.map((strand) => profilesOf(whole, strand, factor, sign));
  const told = strands.flatMap((strand, i) => {
    const found = profiles[i] ?? [];
    // Seen from both sides for a third of its length, or it is the edge of something.
    return found.length * 3 >= CUTS ? [{ strand, found }] : [];
  });
  const roots = rootsOf(told.map(({ strand, found }) => ({ ...strand, taper: taperOf(found) })));
  const hairs = told.flatMap(({ strand, found }, i): SuggestedHair[] => {
    const root = roots[i];
    if (!root) return [];
    const points = root.atStart ? strand.points : strand.points.toReversed();
    const scaled = (point: Point): Point => [point[0] * factor, point[1] * factor];
    const width = median(found.map(({ widthPx }) => widthPx));
    const clearest = found.reduce<Profile | undefined>(
      (best, p) => (!best || Math.abs(p.widthPx - width) < Math.abs(best.widthPx - width) ? p : best),
      undefined,
    );
    const tip = points.at(-1) ?? root.at;
    return [
      {
        at: scaled(root.at),
        tip: scaled(tip),
        path: [root.at, ...thinned(points)].map(scaled),
        unit: root.unit,
        ...(clearest ? { widthPx: width, across: { from: clearest.from, to: clearest.to } } : {}),
        clear: median(found.map(({ depth }) => depth)) / Math.max(8, 4 * ridges.noise),
      },
    ];
  });
  const kept = area ? hairs.filter(({ at }) => counts(area, at)) : hairs;
  const blurs = profiles.flatMap((found) => found.map(({ blurPx }) => blurPx));
  const blurPx = blurs.length > 0 ? median(blurs) : undefined;
  const crossings = crossed(told.map(({ strand }) => strand)) / Math.max(1, told.length);
  const faint = kept.length > 0 && median(kept.map(({ clear }) => clear)) < POOR.clear;
  const warnings: [EyeWarning, boolean][] = [
    ["blur", blurPx !== undefined && blurPx > POOR.blurPx],
    ["glare", glare > POOR.glare],
    ["crossing", crossings > POOR.crossing],
    ["faint", faint],
    ["crowded", (1e6 * told.length) / (grey.width * grey.height) > POOR.perMegapixel],
  ];
  return {
    hairs: kept,
    lighter,
    ...(blurPx === undefined ? {} : { blurPx }),
    glare,
    warnings: warnings.flatMap(([name, is]) => (is ? [name] : [])),
  };
}

/** True for hairs lighter than the skin: beside each hair lie two lines of the other kind, and they are weaker. Told at half the size. */
function isLighter(grey: Grey): boolean {
  const half = halved(grey);
  const { mask } = unseen(half, 4);
  const strongest = (sign: 1 | -1) => {
    const { strength } = ridgesOf(half, sign, [1.2, 2.4]);
    const some = strength.filter((_, i) => mask[i] !== 1 && i % 3 === 0).sort();
    return some[Math.floor(0.995 * (some.length - 1))] ?? 0;
  };
  return strongest(-1) > strongest(1);
}

const CUTS = 9;

/** Cuts across a strand of the picture looked at, in the whole picture. */
function profilesOf(whole: Grey, { points }: Strand, factor: number, sign: 1 | -1): Profile[] {
  return Array.from({ length: CUTS }, (_, i) =>
    Math.round(((i + 1) * (points.length - 1)) / (CUTS + 1)),
  ).flatMap((at) => {
    const [before, here, after] = [
      points[Math.max(0, at - 4)],
      points[at],
      points[Math.min(points.length - 1, at + 4)],
    ];
    if (!before || !here || !after) return [];
    const way = Math.atan2(after[1] - before[1], after[0] - before[0]);
    return profileAt(whole, [here[0] * factor, here[1] * factor], way, sign, 9 * factor) ?? [];
  });
}

/** How much wider the first third of a strand is than the last, as a logarithm; 0 where the two were not seen well. */
function taperOf(found: readonly Profile[]): number {
  const third = Math.floor(found.length / 3);
  if (third < 2) return 0;
  const width = (some: readonly Profile[]) => median(some.map(({ widthPx }) => widthPx));
  return Math.log(width(found.slice(0, third)) / width(found.slice(-third)));
}

/** Pairs of strands that cross each other, counted for each of the two. */
function crossed(strands: readonly Strand[]): number {
  const lines = strands.map(({ points }) => [points[0] ?? [0, 0], points.at(-1) ?? [0, 0]] as const);
  const side = ([ax, ay]: Point, [bx, by]: Point, [x, y]: Point) =>
    Math.sign((bx - ax) * (y - ay) - (by - ay) * (x - ax));
  let sum = 0;
  for (const [i, [a, b]] of lines.entries()) {
    for (const [c, d] of lines.slice(i + 1))
      if (side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b)) sum += 2;
  }
  return sum / 2;
}

function thinned(points: readonly Point[]): Point[] {
  const step = Math.max(1, Math.floor(points.length / 8));
  return points.filter((_, i) => i % step === 0 || i === points.length - 1);
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const [low, high] = [sorted[(sorted.length - 1) >> 1] ?? 0, sorted[sorted.length >> 1] ?? 0];
  return (low + high) / 2;
}
