/** Counts that vary more than chance: the arithmetic to hand-worked figures. */
import { qbeta, qchisq, qt } from "lib-r-math.js";
import { describe, expect, test } from "vitest";
import { follicularUnits } from "../../src/measure/scores/follicular-units.js";
import { rate, spreadLimits } from "../../src/measure/statistics/counting.js";
import { summarise } from "../../src/measure/statistics/means.js";
import { shareDifference, shareRatio, wilson } from "../../src/measure/statistics/proportions.js";
import {
  clumpingOf,
  publishedTimes,
  spreadOf,
  spreadOfMeans,
  spreadOfShares,
  studentFactor,
} from "../../src/measure/statistics/spread.js";
import { rateRatio } from "../../src/measure/statistics/two-counts.js";

const published = { clumping: 2.2, cv_percent: 9.8 };

describe("spread of counts", () => {
  test("three fields tell it: chi-square over its freedom, a tenth of a degree of chance beside it, and Student's point", () => {
    // 10, 20, 30 round 20: 100/20 + 0 + 100/20 = 10 with 2 degrees of freedom.
    const { times, from } = spreadOf([[10, 20, 30]]);
    expect(from).toBe("fields");
    const student = Number(qt(0.975, 2.1)) / 1.959963984540054;
    expect(times).toBeCloseTo((10.1 / 2.1) * student ** 2, 6);
  });

  test("more fields are never less sure than one by published spread", () => {
    const one = publishedTimes(20, published);
    expect(spreadOf([[10, 20, 30]], published)).toEqual({ times: 3 * one, from: "fields" });
    const apart = [
      [10, 30],
      [10, 30],
    ];
    expect(spreadOf(apart, published).times).toBeCloseTo(2 * one, 9);
    // One field at one visit and three at the other: half the sum of 1 and 1/3 is two thirds, so one and a half fields.
    expect(spreadOf([[20], [10, 20, 30]], published).times).toBeCloseTo(1.5 * one, 9);
    // Fields that agree keep what they tell.
    expect(spreadOf([[20, 21, 19]], published).times).toBeCloseTo(((0.1 + 0.1) / 2.1) * studentFactor(2), 9);
  });

  test("two visits of two fields tell it together, two fields or one of each do not", () => {
    expect(
      spreadOf(
        [
          [10, 20],
          [40, 40],
        ],
        published,
      ).from,
    ).toBe("fields");
    expect(spreadOf([[10, 20], [40]], published).from).toBe("published");
    expect(spreadOf([[10], [40]], published)).toEqual({ times: 2.2 + 0.098 ** 2 * 25, from: "published" });
    expect(spreadOf([[10], [40]])).toEqual({ times: 1, from: "none" });
    expect(spreadOf([[0, 0, 0]]).times).toBeCloseTo((0.1 / 2.1) * studentFactor(2), 9);
  });

  test("under five to a field, published spread stands unless the fields differ by more than chance", () => {
    const one = (mean: number) => publishedTimes(mean, published);
    expect(spreadOf([[0, 0, 0]], published)).toEqual({ times: one(0), from: "published" });
    expect(spreadOf([[3, 5, 6]], published)).toEqual({ times: one(14 / 3), from: "published" });
    expect(spreadOf([[4, 5, 6]], published).from).toBe("fields");
    // Chi-square 9.21 is the 99 percent point at two degrees of freedom: 9 and 9.5 round a mean of 4 and 2.
    expect(spreadOf([[0, 6, 6]], published).from).toBe("published");
    expect(spreadOf([[0, 0, 12]], published).from).toBe("fields");
  });

  test("hairs in units: the published shares give 2.2, single hairs 1", () => {
    const shares = { "1": 2838, "2": 5262, "3": 1748, "4": 130, "5": 21 };
    expect(clumpingOf(shares).toFixed(2)).toBe("2.20");
    expect(clumpingOf({ "1": 40 })).toBe(1);
    expect(clumpingOf({ "1": 1, "3": 1 })).toBe(2.5);
    expect(clumpingOf({ "1": 1 }, { "3": 1 })).toBe(2.5);
    expect(publishedTimes(100, published)).toBeCloseTo(2.2 + 0.9604, 9);
  });

  test("limits are those of the count it is worth, scaled back", () => {
    const { low, high } = spreadLimits(40, 2.5);
    expect(low).toBeCloseTo((2.5 * Number(qchisq(0.025, 33))) / 2, 6);
    expect(high).toBeCloseTo((2.5 * Number(qchisq(0.975, 33))) / 2, 6);
    expect(spreadLimits(0, 2.5).low).toBe(0);
    expect(rate(40, 2, 2.5)).toEqual({ value: 20, low: low / 2, high: high / 2 });
  });

  test("the ratio of two such counts, and p below 0.05 exactly when its limits leave out 1", () => {
    const r = rateRatio(60, 1, 80, 1, 2);
    const [low, high] = [0.025, 0.975].map((q) => Number(qbeta(q, 30.5, 40.5)));
    expect(r?.low).toBeCloseTo((low ?? 0) / (1 - (low ?? 0)), 6);
    expect(r?.high).toBeCloseTo((high ?? 0) / (1 - (high ?? 0)), 6);
    for (let a = 0; a <= 40; a++) {
      for (let b = 0; b <= 40; b++) {
        const both = rateRatio(a, 2, b, 3, 1.7);
        if (both) expect(both.p < 0.05, `${a} ${b}`).toBe(both.low > 1 || both.high < 1);
      }
    }
    expect(rateRatio(0, 1, 9, 1, 2)?.low).toBe(0);
    expect(rateRatio(9, 1, 0, 1, 2)?.high).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("spread of shares", () => {
  const parts = (text: string) =>
    text.split(" ").map((word) => {
      const [part = 0, of = 0] = word.split("/").map(Number);
      return { part, of };
    });
  // Litters of rats, Weil 1970: design effects 1.232495 and 3.952861, as the help page of a statistics library prints them.
  const control = parts("13/13 12/12 9/9 9/9 8/8 8/8 12/13 11/12 9/10 9/10 8/9 11/13 4/5 5/7 7/10 7/10");
  const treated = parts("12/12 11/11 10/10 9/9 10/11 9/10 9/10 8/9 8/9 4/5 7/9 4/7 5/10 3/6 3/10 0/7");
  const moderated = (effect: number, freedom: number) =>
    ((effect * freedom + 0.1) / (freedom + 0.1)) * studentFactor(freedom);

  test("the published design effects, with a tenth of a degree of chance and Student's point", () => {
    expect(spreadOfShares([control])).toEqual({
      times: expect.closeTo(moderated(1.232495, 15), 5),
      from: "fields",
      freedom: 15,
    });
    expect(spreadOfShares([treated]).times).toBeCloseTo(moderated(3.952861, 15), 5);
    expect(spreadOfShares([control, treated]).times).toBeCloseTo(moderated((1.232495 + 3.952861) / 2, 30), 5);
  });

  test("means of units in fields: thirty units by tens with 15, 20 and 25 hairs, from scipy", () => {
    const units = { 1: 5, 2: 20, 3: 5 };
    const each = [
      { units: 10, single: 5, hairs: 15 },
      { units: 10, single: 0, hairs: 20 },
      { units: 10, single: 0, hairs: 25 },
    ];
    const { sd } = summarise(Object.entries(units).flatMap(([n, k]) => Array<number>(k).fill(Number(n)))) ?? {
      sd: 0,
    };
    // Their means lie at 1.5, 2 and 2.5 round 2: an effect of 7.25 with two degrees of freedom.
    const { times } = spreadOfMeans([{ each: each.map((f) => ({ part: f.hairs, of: f.units })), sd }]);
    expect(times).toBeCloseTo(moderated(7.25, 2), 6);
    const [perUnit] =
      follicularUnits.compute({ units, each }, { single_term: "", single_source: "" }).measured ?? [];
    expect(perUnit?.low).toBeCloseTo(0.787, 3);
    expect(perUnit?.high).toBeCloseTo(3.213, 3);
  });

  test("two fields, or fields that hold but one kind, tell nothing; empty fields are none", () => {
    const nothing = { times: 1, from: "none" };
    expect(spreadOfShares([])).toEqual(nothing);
    expect(spreadOfShares([parts("3/30 9/30")])).toEqual(nothing);
    expect(spreadOfShares([parts("3/30 9/30"), parts("5/30")])).toEqual(nothing);
    expect(spreadOfShares([parts("3/30 9/30"), parts("5/30 5/30")]).from).toBe("fields");
    expect(spreadOfShares([parts("0/30 0/30 0/30"), parts("5/30")])).toEqual(nothing);
    expect(spreadOfShares([parts("30/30 30/30 30/30")])).toEqual(nothing);
    expect(spreadOfShares([parts("3/30 9/30 0/0")])).toEqual(nothing);
  });

  test("limits are those of the things they are worth", () => {
    expect(wilson(40, 200, 4)).toEqual(wilson(10, 50));
    const whole = shareDifference(40, 2000, 80, 2000, 4);
    const worth = shareDifference(10, 500, 20, 500);
    expect(whole.value).toBeCloseTo(worth.value, 9);
    expect(whole.low).toBeCloseTo(worth.low, 4);
    expect(whole.high).toBeCloseTo(worth.high, 4);
    expect(shareRatio(40, 200, 80, 200, 4)?.low).toBeCloseTo(shareRatio(10, 50, 20, 50)?.low ?? 0, 9);
  });
});
