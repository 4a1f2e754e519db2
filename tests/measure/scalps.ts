/**
 * Scalps of known truth: hairs in units or alone, spots alike or varying by a tenth, shares alike or varying between spots, and what
 * is counted and measured on them.
 * Hairs that fall independently stand alone, so that is what is recorded of them: units of several hairs would say otherwise.
 */
import { seededDraws } from "../../src/base/draws.js";
import type { CountedField } from "../../src/visit/visit.js";

/** Published shares of units with 1 to 5 hairs, and the largest published variation of a repeated count (comparison.yaml). */
const SIZES = [0.2838, 0.5262, 0.1748, 0.013, 0.0022];
const PER_UNIT = SIZES.reduce((sum, share, i) => sum + share * (i + 1), 0);
const SPOT_SD = Math.sqrt(Math.log(1 + 0.098 ** 2));

export interface Scalp {
  readonly units: boolean;
  readonly spots: boolean;
  /** Correlation within a field of what kind its hairs and openings are: shares that vary between spots (beta-binomial). */
  readonly alike?: number;
}
export const SCALPS: Readonly<Record<string, Scalp>> = {
  units: { units: true, spots: false },
  spots: { units: false, spots: true },
  "units and spots": { units: true, spots: true },
  "shares 0.02": { units: true, spots: true, alike: 0.02 },
  "shares 0.05": { units: true, spots: true, alike: 0.05 },
};

/** Measures of how hairs share their units: nothing to estimate where each stands alone. */
export const OF_UNITS: readonly string[] = ["single-unit-share", "hairs-per-unit", "ratio-single-units"];

/** Shares that hold of every hair or unit of a simulated scalp. */
export const TRUTH = {
  thin: 0.2,
  vellus: 0.08,
  discoloured: 0.15,
  single: SIZES[0] ?? 0,
  perUnit: PER_UNIT,
} as const;

export function counter(seed: string) {
  const { uniform } = seededDraws(seed);
  const normal = () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  const poisson = (mean: number): number => {
    if (mean > 60) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal()));
    let [k, p] = [0, 1];
    for (const end = Math.exp(-mean); ; k++) {
      p *= uniform();
      if (p <= end) return k;
    }
  };
  const binomial = (of: number, share: number) => {
    let part = 0;
    for (let i = 0; i < of; i++) if (uniform() < share) part++;
    return part;
  };
  /** Gamma with shape `a` (Marsaglia and Tsang). */
  const gamma = (a: number): number => {
    if (a < 1) return gamma(a + 1) * (1 - uniform()) ** (1 / a);
    const d = a - 1 / 3;
    for (;;) {
      const x = normal();
      const v = (1 + x / Math.sqrt(9 * d)) ** 3;
      if (v > 0 && Math.log(1 - uniform()) < x * x * 0.5 + d - d * v + d * Math.log(v)) return d * v;
    }
  };
  /** A share as it is at one spot. */
  const shareHere = (share: number, { alike = 0 }: Scalp): number => {
    if (alike === 0) return share;
    const [a, b] = [share, 1 - share].map((s) => gamma(s * (1 / alike - 1)));
    return (a ?? 0) / ((a ?? 0) + (b ?? 1));
  };
  /** Hairs of a unit where so many stand alone. */
  const unitSize = (single: number) => {
    if (uniform() < single) return 1;
    let [u, size] = [uniform() * (1 - TRUTH.single), 2];
    for (; size < SIZES.length && u > (SIZES[size - 1] ?? 0); size++) u -= SIZES[size - 1] ?? 0;
    return size;
  };
  const spot = (mean: number, { spots }: Scalp) =>
    spots ? mean * Math.exp(SPOT_SD * normal() - SPOT_SD ** 2 / 2) : mean;

  /** Hairs of one field that shows `mean` on average. */
  function hairs(mean: number, scalp: Scalp): number {
    const here = spot(mean, scalp);
    if (!scalp.units) return poisson(here);
    let sum = 0;
    for (let n = poisson(here / PER_UNIT); n > 0; n--) sum += unitSize(TRUTH.single);
    return sum;
  }

  /** Everything counted in one field. */
  function field(mean: number, scalp: Scalp): CountedField {
    const all = hairs(mean, scalp);
    const thin = binomial(all, shareHere(TRUTH.thin, scalp));
    const single = shareHere(TRUTH.single, scalp);
    const units: Record<string, number> = {};
    let openings = 0;
    for (let left = all; left > 0; openings++) {
      const size = scalp.units ? unitSize(single) : 1;
      units[size] = (units[size] ?? 0) + 1;
      left -= size;
    }
    return {
      hairs: all,
      thin,
      vellus: binomial(thin, TRUTH.vellus / TRUTH.thin),
      units,
      yellowDots: poisson(spot(3, scalp)),
      discolouredOpenings: binomial(openings, shareHere(TRUTH.discoloured, scalp)),
    };
  }

  return { uniform, normal, poisson, binomial, spot, hairs, field };
}
