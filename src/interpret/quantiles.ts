/** A distribution -> so many values that stand for it: one from the middle of each of its equally likely parts, in rising order. */
import jstat from "jstat";

/** Standard normal. */
export function normalQuantiles(count: number): Float64Array {
  return new Float64Array(count).map((_, i) => jstat.jStat.normal.inv((i + 0.5) / count, 0, 1));
}

/** Log odds reach this far either side of even; shares beyond are as good as none and all. */
const FURTHEST = 14;
const STEP = 0.05;

const logOdds = Array.from({ length: 2 * Math.round(FURTHEST / STEP) + 1 }, (_, k) => k * STEP - FURTHEST);
const logShare = Float64Array.from(logOdds, (y) => -Math.log1p(Math.exp(-y)));
const logRest = Float64Array.from(logOdds, (y) => -Math.log1p(Math.exp(y)));

/**
 * Beta(a, b), to three digits for a + b up to 40: its density over log odds, where it is smooth however small a or b is, taken as straight
 * between steps.
 */
export function betaQuantiles(a: number, b: number, count: number): Float64Array {
  const mode = a * Math.log(a / (a + b)) + b * Math.log(b / (a + b));
  const last = logShare.length - 1;
  const density = new Float64Array(last + 1);
  for (let k = 0; k <= last; k++)
    density[k] = Math.exp(a * (logShare[k] as number) + b * (logRest[k] as number) - mode);
  // Beyond the ends the density falls off as exp(a y) and exp(-b y).
  const upTo = new Float64Array(last + 1).fill((density[0] ?? 0) / a);
  for (let k = 1; k <= last; k++)
    upTo[k] = (upTo[k - 1] as number) + (STEP * ((density[k - 1] as number) + (density[k] as number))) / 2;
  const whole = (upTo[last] ?? 0) + (density[last] ?? 0) / b;
  const quantiles = new Float64Array(count);
  for (let i = 0, k = 1; i < count; i++) {
    const wanted = ((i + 0.5) / count) * whole;
    while (k < last && (upTo[k] as number) < wanted) k++;
    // The area wanted beyond the step before, in steps of unit width.
    const area = Math.max(0, wanted - (upTo[k - 1] as number)) / STEP;
    const left = density[k - 1] as number;
    const right = density[k] as number;
    const part = (2 * area) / (left + Math.sqrt(Math.max(0, left * left + 2 * (right - left) * area)));
    const y = (k - 1 + Math.min(1, part || 0)) * STEP - FURTHEST;
    quantiles[i] = 1 / (1 + Math.exp(-y));
  }
  return quantiles;
}
