/**
 * Classes published in whole percents, and the rule for values between them: round to the nearest whole percent, halves
 * up, except that any value above 0 is at least 1 and only 100 is 100.
 */
import { z } from "zod";

export const wholeBands = z
  .array(z.strictObject({ class: z.string(), from: z.int().min(0), to: z.int().max(100) }))
  .min(2);
export type WholeBands = z.infer<typeof wholeBands>;

/** Whole percent under which a percentage is classed. `wholePercent(0.2)` is 1, `wholePercent(99.8)` is 99. */
export function wholePercent(value: number): number {
  if (value <= 0) return 0;
  if (value >= 100) return 100;
  return Math.min(99, Math.max(1, Math.floor(Number(value.toFixed(6)) + 0.5)));
}

/** Class of a percentage from 0 to 100 under whole-number bands. */
export function bandOf(value: number, bands: WholeBands): string {
  const whole = wholePercent(value);
  const band = bands.find((b) => whole >= b.from && whole <= b.to);
  if (!band) throw new RangeError(`no class for ${value} percent`);
  return band.class;
}
