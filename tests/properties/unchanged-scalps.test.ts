/** False calls of change on scalps that did not change, and how often limits hold their truth. */
import { describe, expect, test } from "vitest";
import { seededDraws } from "../../src/base/draws.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { compareVisits } from "../../src/measure/change/compare.js";
import { rate } from "../../src/measure/statistics/counting.js";
import { spreadOf } from "../../src/measure/statistics/spread.js";
import { rateRatio } from "../../src/measure/statistics/two-counts.js";
import { site, visit } from "../measure/visit-for-tests.js";

const knowledge = loadKnowledge();
const published = { clumping: 2.2, cv_percent: 9.8 };

/** Fields of a scalp that never changes: hairs alone or in units of the published sizes, every spot alike or varying by a tenth. */
const { uniform: draws } = seededDraws("unchanged scalps");
const normal = () => Math.sqrt(-2 * Math.log(1 - draws())) * Math.cos(2 * Math.PI * draws());
const SIZES = [0.2838, 0.5262, 0.1748, 0.013, 0.0021];

function poisson(mean: number): number {
  if (mean > 60) return Math.max(0, Math.round(mean + Math.sqrt(mean) * normal()));
  let [k, p] = [0, 1];
  for (const end = Math.exp(-mean); ; k++) {
    p *= draws();
    if (p <= end) return k;
  }
}

function field(mean: number, units: boolean, spots: boolean): number {
  const here = spots ? mean * Math.exp(0.09975 * normal() - 0.004975) : mean;
  if (!units) return poisson(here);
  let hairs = 0;
  for (let n = poisson(here / 1.923); n > 0; n--) {
    let [u, size] = [draws(), 1];
    for (; size < SIZES.length && u > (SIZES[size - 1] ?? 0); size++) u -= SIZES[size - 1] ?? 0;
    hairs += size;
  }
  return hairs;
}

const SCALPS = [
  { says: "units", units: true, spots: false },
  { says: "spots", units: false, spots: true },
  { says: "units and spots", units: true, spots: true },
] as const;

function falseCalls(fields: number, mean: number, scalp: (typeof SCALPS)[number], rounds = 8000): number {
  let calls = 0;
  for (let i = 0; i < rounds; i++) {
    const once = () => Array.from({ length: fields }, () => field(mean, scalp.units, scalp.spots));
    const [a, b] = [once(), once()];
    const sum = (x: number[]) => x.reduce((p, q) => p + q, 0);
    const { times } = spreadOf([a, b], published);
    if ((rateRatio(sum(b), fields, sum(a), fields, times)?.p ?? 1) < 0.05) calls++;
  }
  return (100 * calls) / rounds;
}

describe("false calls of change on unchanged scalps, in percent", () => {
  const plans = [2, 3, 4].flatMap((fields) => SCALPS.map((scalp) => [fields, scalp.says, scalp] as const));
  test.each(plans)("%i fields at each visit, %s: between 2.5 and 6.5", (fields, _, scalp) => {
    for (const mean of [60, 130]) {
      const calls = falseCalls(fields, mean, scalp);
      expect(calls, `mean ${mean}`).toBeGreaterThan(2.5);
      expect(calls, `mean ${mean}`).toBeLessThan(6.5);
    }
  });

  test.each(SCALPS.map((scalp) => [scalp.says, scalp] as const))(
    "one field at each visit, %s: at most 6",
    (_, scalp) => {
      for (const mean of [60, 130]) expect(falseCalls(1, mean, scalp)).toBeLessThan(6);
    },
  );

  test("the same through two whole visits", () => {
    let calls = 0;
    const rounds = 600;
    for (let i = 0; i < rounds; i++) {
      const at = (id: string, date: string) =>
        visit({
          id,
          date,
          scope: { fieldDiameterMm: 9 },
          sites: [site("vertex", { fields: [1, 2, 3].map(() => ({ hairs: field(130, true, true) })) })],
        });
      const { value } = compareVisits([at("TS-1", "2026-01-15"), at("TS-2", "2026-04-15")], knowledge);
      const density = value?.overall.measures.find((m) => m.id === "hair-density");
      expect(density?.spread).toBe("fields");
      if (density?.verdict === "more than counting error") calls++;
    }
    expect((100 * calls) / rounds).toBeGreaterThan(2);
    expect((100 * calls) / rounds).toBeLessThan(8);
  });

  test("limits of a density hold its truth in 93 to 98 of 100 scalps", () => {
    for (const [fields, mean] of [
      [1, 130],
      [3, 130],
      [4, 60],
    ] as const) {
      let held = 0;
      for (let i = 0; i < 3000; i++) {
        const each = Array.from({ length: fields }, () => field(mean, true, true));
        const { times } = spreadOf([each], published);
        const { low, high } = rate(
          each.reduce((p, q) => p + q, 0),
          fields,
          times,
        );
        if (low <= mean && mean <= high) held++;
      }
      expect(held / 30, `${fields} fields of ${mean}`).toBeGreaterThan(93);
      expect(held / 30, `${fields} fields of ${mean}`).toBeLessThan(98);
    }
  });
});
