/** Laws of measuring that hold for any visit: monotone, unit-true, blind to order, intervals round their values, no NaN. */

import fc from "fast-check";
import { expect, test } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { compareVisits } from "../../src/measure/change/compare.js";
import { measure } from "../../src/measure/index.js";
import { plausibility } from "../../src/measure/plausible.js";
import { countLimits } from "../../src/measure/statistics/counting.js";
import { clopperPearson, shareDifference, wilson } from "../../src/measure/statistics/proportions.js";
import { rateRatio } from "../../src/measure/statistics/two-counts.js";
import { wholePercent } from "../../src/measure/whole-bands.js";
import { type CountedField, REGIONS, SEXES, type Visit } from "../../src/visit/visit.js";
import { withoutUndefined } from "../../src/visit/without-undefined.js";
import { site, visit } from "../measure/visit-for-tests.js";
import { runs } from "../runs.js";

const knowledge = loadKnowledge();
const count = (max: number) => fc.option(fc.integer({ min: 0, max }), { nil: undefined });
const fields: fc.Arbitrary<CountedField> = fc
  .record({
    hairs: count(200),
    thin: count(80),
    vellus: count(60),
    yellowDots: count(20),
    discolouredOpenings: count(40),
    units: fc.option(
      fc.dictionary(fc.constantFrom("1", "2", "3", "4"), fc.integer({ min: 0, max: 60 }), { maxKeys: 4 }),
      { nil: undefined },
    ),
  })
  .map(withoutUndefined);
const percent = fc.integer({ min: 0, max: 100 });
const anyVisit: fc.Arbitrary<Visit> = fc
  .record({
    fieldDiameterMm: fc.option(fc.double({ min: 0.5, max: 40, noNaN: true }), { nil: undefined }),
    magnification: fc.option(fc.constantFrom(10, 20, 70), { nil: undefined }),
    sex: fc.constantFrom(...SEXES),
    sites: fc.array(
      fc.record({
        region: fc.constantFrom(...REGIONS),
        fields: fc.array(fields, { maxLength: 5 }),
        diametersUm: fc.array(fc.double({ min: 5, max: 120, noNaN: true }), { maxLength: 60 }),
        patch: fc.option(
          fc.record({
            lengthMm: fc.integer({ min: 1, max: 200 }),
            widthMm: fc.integer({ min: 1, max: 200 }),
          }),
          { nil: undefined },
        ),
      }),
      { maxLength: 4 },
    ),
    extent: fc.option(fc.record({ top: percent, left: percent, right: percent, back: percent }), {
      nil: undefined,
    }),
    pulls: fc.array(
      fc.record({
        site: fc.constantFrom(...REGIONS),
        pulled: fc.integer({ min: 0, max: 80 }),
        cameOut: fc.integer({ min: 0, max: 80 }),
        anagen: count(80),
      }),
      { maxLength: 4 },
    ),
  })
  .map(({ fieldDiameterMm, magnification, sex, sites, extent, pulls }) =>
    visit(
      withoutUndefined({
        scope: { fieldDiameterMm, magnification },
        patient: { ...visit().patient, sex },
        sites: sites.map(({ region, ...rest }) => site(region, withoutUndefined(rest))),
        extent,
        pullTest: pulls,
      }),
    ),
  );

test("no visit yields NaN, infinity, a negative value, or an interval that leaves its value out", () => {
  fc.assert(
    fc.property(anyVisit, (v) => {
      const m = measure(v, knowledge);
      for (const x of m.measured) {
        const at = `${x.id} ${x.value} ${x.low} ${x.high}`;
        expect(Number.isFinite(x.value) && x.value >= 0, at).toBe(true);
        if (x.low !== undefined) expect(Number.isFinite(x.low) && x.low <= x.value + 1e-9, at).toBe(true);
        if (x.high !== undefined) expect(Number.isFinite(x.high) && x.high >= x.value - 1e-9, at).toBe(true);
        if (x.unit === "%" && !x.id.endsWith("-cv")) expect(x.value, at).toBeLessThanOrEqual(100);
      }
      expect(JSON.stringify(m)).not.toMatch(/null,"(?:unit|ucum)"/u);
      for (const p of plausibility(v, m)) expect(p.message).not.toMatch(/NaN|Infinity|undefined/u);
    }),
    { numRuns: runs(150) },
  );
});

test("the order of fields and of diameters changes nothing", () => {
  fc.assert(
    fc.property(anyVisit, (v) => {
      const turned = {
        ...v,
        sites: v.sites.map((s) => ({
          ...s,
          fields: [...s.fields].reverse(),
          diametersUm: [...s.diametersUm].reverse(),
        })),
      };
      const round = (m: ReturnType<typeof measure>) =>
        m.measured.map((x) => [x.id, x.site, x.value.toFixed(6), x.low?.toFixed(6), x.high?.toFixed(6)]);
      expect(round(measure(turned, knowledge))).toEqual(round(measure(v, knowledge)));
      expect(measure(turned, knowledge).rules.map((r) => r.met)).toEqual(
        measure(v, knowledge).rules.map((r) => r.met),
      );
    }),
    { numRuns: runs(60) },
  );
});

test("a key left out equals a key never written", () => {
  fc.assert(
    fc.property(anyVisit, (v) => {
      const bare: Visit = JSON.parse(JSON.stringify(v));
      expect(measure(bare, knowledge)).toEqual(measure(v, knowledge));
    }),
    { numRuns: runs(40) },
  );
});

test("twice the field diameter is a quarter of the density; one more hair is never less dense", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 400 }),
      fc.double({ min: 1, max: 20, noNaN: true }),
      fc.integer({ min: 1, max: 5 }),
      (hairs, d, n) => {
        const density = (count: number, diameter: number) =>
          measure(
            visit({
              scope: { fieldDiameterMm: diameter },
              sites: [site("vertex", { fields: Array.from({ length: n }, () => ({ hairs: count })) })],
            }),
            knowledge,
          ).measured.find((m) => m.id === "hair-density");
        const [once, wide, more] = [density(hairs, d), density(hairs, 2 * d), density(hairs + 1, d)];
        expect(wide?.value).toBeCloseTo((once?.value ?? 0) / 4, 6);
        expect(more?.value ?? 0).toBeGreaterThan(once?.value ?? 0);
        expect(more?.low ?? 0).toBeGreaterThan(once?.low ?? 0);
      },
    ),
    { numRuns: runs(40) },
  );
});

test("more loss in any area never lowers the score of scalp loss, nor its class", () => {
  fc.assert(
    fc.property(percent, percent, percent, percent, (top, left, right, back) => {
      const score = (t: number) =>
        measure(visit({ extent: { top: t, left, right, back } }), knowledge).measured.find(
          (m) => m.id === "salt-score",
        )?.value ?? -1;
      expect(score(Math.min(100, top + 7))).toBeGreaterThanOrEqual(score(top));
      expect(score(top)).toBeLessThanOrEqual(100);
    }),
    { numRuns: runs(60) },
  );
  fc.assert(
    fc.property(
      fc.double({ min: 0, max: 100, noNaN: true }),
      fc.double({ min: 0, max: 100, noNaN: true }),
      (a, b) => {
        expect(wholePercent(Math.max(a, b))).toBeGreaterThanOrEqual(wholePercent(Math.min(a, b)));
      },
    ),
  );
});

test("limits hold their value and grow with the count", () => {
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 4000 }), (n) => {
      const [a, b] = [countLimits(n), countLimits(n + 1)];
      expect(a.low <= n && n <= a.high).toBe(true);
      expect(b.low > a.low && b.high > a.high).toBe(true);
    }),
  );
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 2000 }), fc.double({ min: 0, max: 1, noNaN: true }), (of, f) => {
      const part = Math.floor(f * of);
      for (const { low, high } of [wilson(part, of), clopperPearson(part, of)]) {
        expect(low >= 0 && low <= part / of + 1e-12 && high >= part / of - 1e-12 && high <= 1).toBe(true);
      }
    }),
  );
});

test("turning two visits round turns the change round", () => {
  const n = fc.integer({ min: 1, max: 300 });
  fc.assert(
    fc.property(n, n, (a, b) => {
      const [ab, ba] = [rateRatio(a, 1, b, 1), rateRatio(b, 1, a, 1)];
      expect((ab?.low ?? 0) * (ba?.high ?? 0)).toBeCloseTo(1, 6);
      expect(ab?.p).toBeCloseTo(ba?.p ?? 0, 6);
    }),
  );
  fc.assert(
    fc.property(n, n, n, n, (a, b, c, d) => {
      const [k1, n1, k2, n2] = [Math.min(a, b), Math.max(a, b), Math.min(c, d), Math.max(c, d)];
      const [x, y] = [shareDifference(k1, n1, k2, n2), shareDifference(k2, n2, k1, n1)];
      expect(x.low).toBeCloseTo(-y.high, 10);
      expect(x.low <= x.value && x.value <= x.high).toBe(true);
      expect(x.low >= -1 - 1e-9 && x.high <= 1 + 1e-9).toBe(true);
    }),
  );
});

test("any two visits of one patient compare without NaN, and the same visit copied has nothing changed", () => {
  fc.assert(
    fc.property(anyVisit, anyVisit, (v, w) => {
      const compared = compareVisits(
        [
          { ...v, id: "A", date: "2026-01-01" },
          { ...w, id: "B", date: "2026-03-01", patient: v.patient },
        ],
        knowledge,
      );
      expect(JSON.stringify(compared.value)).not.toMatch(/NaN|"difference":null|"value":null/u);
      const still = compareVisits(
        [
          { ...v, id: "A", date: "2026-01-01" },
          { ...v, id: "B", date: "2026-03-01" },
        ],
        knowledge,
      ).value?.overall;
      for (const m of still?.measures ?? []) {
        expect(m.direction).toBe("same");
        expect(m.verdict).not.toBe("more than counting error");
      }
    }),
    { numRuns: runs(60) },
  );
});
