/** How the head of a child differs from the grown one that is drawn: smaller round, and its face shorter under a high forehead. */
import { mapCurve, type Point } from "../curve.js";
import { HEAD } from "./head.js";
import type { HeadView, View } from "./head-view.js";

/**
 * Head circumference in cm at an age in years, boys and girls together: medians to 3 years from a page that restates the
 * growth charts (medicalalgorithms.com), means of 8 and 12 years and of adults (55.2 and 57.2) from pages that quote studies (from memory).
 */
const ROUND: readonly (readonly [years: number, cm: number])[] = [
  [0, 34.6],
  [0.5, 43.1],
  [1, 46.3],
  [2, 48.7],
  [3, 49.9],
  [8, 51.5],
  [12, 53.2],
  [18, 56.2],
];
const GROWN = 56.2;

/** Size of a head at this age as a share of the grown one; a straight line between the ages known, 1 from 18 years on. */
export function headSize(years: number): number {
  const after = ROUND.findIndex(([age]) => age > years);
  const [b, a] = [ROUND[after], ROUND[after - 1]];
  if (!b) return 1;
  if (!a) return (ROUND[0]?.[1] ?? GROWN) / GROWN;
  return (a[1] + ((years - a[0]) / (b[0] - a[0])) * (b[1] - a[1])) / GROWN;
}

/** Height of the brows in every view with a face, in millimetres from the top. */
const BROWS = 98;
/** Face of a newborn as a share of the grown one, brows to chin, growing evenly to 18 years. Ours to draw. */
const SHORTEST = 0.74;

const kept = new Map<string, HeadView>();

/** The view at an age: below the brows everything lies nearer to them. */
export function headAt(view: View, years: number): HeadView {
  const grown = HEAD[view];
  if (view === "above" || years >= 18) return grown;
  const whole = Math.max(0, Math.floor(years));
  const key = `${view} ${whole}`;
  const known = kept.get(key);
  if (known) return known;
  const shorter = SHORTEST + (1 - SHORTEST) * (whole / 18);
  const move = ([x, y]: Point): Point => [x, y <= BROWS ? y : BROWS + (y - BROWS) * shorter];
  const moved = (curves: HeadView["outline"]) => curves.map((curve) => mapCurve(curve, move));
  const [left, top, width, height] = grown.frame;
  const head: HeadView = {
    ...grown,
    frame: [left, top, width, move([0, top + height])[1] - top],
    outline: moved(grown.outline),
    over: moved(grown.over),
    features: moved(grown.features),
    whorl: moved(grown.whorl),
    hairline: moved(grown.hairline),
    regions: grown.regions.map((shape) => ({ ...shape, outline: mapCurve(shape.outline, move) })),
  };
  kept.set(key, head);
  return head;
}
