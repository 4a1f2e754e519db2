/** Pixels to millimetres: from lines of known length, or from the field's diameter, with how well that is known. */
import { distance } from "./geometry.js";
import type { Marks } from "./marks.js";

/** Nobody sets an end of a line closer than this: standard deviation in pixels (common practice, no source). */
const PLACING_PX = 1;

export interface KnownScale {
  readonly mmPerPx: number;
  /** Standard error as a fraction of the scale. */
  readonly error: number;
  /** How often the scale was taken. */
  readonly lines: number;
}

/**
 * All lines together tell the scale, so that long ones weigh more. Its error is what their disagreement shows, and never less
 * than what placing their ends allows. What is printed on a scale, or told of a field, is taken as true.
 */
export function scaleOf({ scale, blurPx }: Pick<Marks, "scale" | "blurPx">): KnownScale | undefined {
  if (!scale) return undefined;
  const placing = Math.SQRT2 * Math.max(PLACING_PX, blurPx ?? 0);
  if (scale.kind === "field") {
    const { diameterMm, diameterPx } = scale.field;
    return { mmPerPx: diameterMm / diameterPx, error: placing / diameterPx, lines: 1 };
  }
  const lines = scale.lines
    .map(({ from, to, lengthMm }) => ({ px: distance(from, to), mm: lengthMm }))
    .filter(({ px }) => px > 0);
  const px = lines.reduce((sum, line) => sum + line.px, 0);
  if (px === 0) return undefined;
  const mmPerPx = lines.reduce((sum, line) => sum + line.mm, 0) / px;
  const n = lines.length;
  const byPlacing = (placing * Math.sqrt(n)) / px;
  // Each line's departure from the common scale, in pixels; their sum is zero (ratio estimator, Cochran 1977, from memory).
  const off = lines.reduce((sum, line) => sum + (line.mm / mmPerPx - line.px) ** 2, 0);
  const byLines = n > 1 ? Math.sqrt((n * off) / (n - 1)) / px : 0;
  return { mmPerPx, error: Math.max(byPlacing, byLines), lines: n };
}

/** Largest departure of a scale line from all of them together, as a fraction. */
export function disagreement({ scale }: Pick<Marks, "scale">): number {
  const known = scaleOf({ ...(scale ? { scale } : {}) });
  if (scale?.kind !== "lines" || !known) return 0;
  return Math.max(
    ...scale.lines.map(({ from, to, lengthMm }) => {
      const px = distance(from, to);
      return px === 0 ? 1 : Math.abs(lengthMm / px / known.mmPerPx - 1);
    }),
  );
}
