/** Limits of shares, odds and ratios, worked by hand, and at their ends. */
import { describe, expect, test } from "vitest";
import { oddsLimits, shareDifference, shareRatio, wilson } from "../../src/measure/statistics/proportions.js";

const rounded = (value: object | undefined) =>
  value &&
  Object.fromEntries(Object.entries(value).map(([key, n]) => [key, Number((n as number).toFixed(4))]));

test.each([
  [5, 10, { low: 0.2366, high: 0.7634 }],
  [0, 10, { low: 0, high: 0.2775 }],
  [10, 10, { low: 0.7225, high: 1 }],
  [1, 10, { low: 0.0179, high: 0.4042 }],
])("a share of %i in %i", (part, of, limits) => {
  expect(rounded(wilson(part, of))).toEqual(limits);
});

describe("odds", () => {
  test("are the share to the rest, at either limit", () => {
    expect(rounded(oddsLimits(5, 10))).toEqual({ low: 0.3099, high: 3.2267 });
    expect(rounded(oddsLimits(0, 10))).toEqual({ low: 0, high: 0.3841 });
  });
  test("have no upper limit where nothing is left over", () => {
    expect(rounded(oddsLimits(10, 10))).toEqual({ low: 2.6032 });
  });
});

test("a ratio of shares has limits that are as many times less and more, and none beside a share of nought", () => {
  expect(rounded(shareRatio(6, 10, 3, 10))).toEqual({ value: 2, low: 0.6836, high: 5.8513 });
  expect([shareRatio(0, 10, 3, 10), shareRatio(3, 10, 0, 10)]).toEqual([undefined, undefined]);
});

test("a difference of shares has the p of the test that its limits come from", () => {
  // 10 and 35 of 100 against 45 of 200: 4.2227 standard errors, from scipy.
  expect(shareDifference(10, 100, 35, 100).p / 2.41349e-5).toBeCloseTo(1, 3);
  expect(shareDifference(0, 10, 0, 10).p).toBe(1);
  for (let a = 0; a <= 20; a++) {
    for (let b = 0; b <= 30; b++) {
      const { low, high, p } = shareDifference(a, 20, b, 30, 1.4);
      expect(p < 0.05, `${a} ${b}`).toBe(low > 0 || high < 0);
    }
  }
});

test("a difference of shares turns its sign with them, also from none to all", () => {
  const there = shareDifference(2, 10, 7, 10);
  const back = shareDifference(7, 10, 2, 10);
  expect([there.low + back.high, there.high + back.low].map((n) => Math.abs(n) < 1e-6)).toEqual([true, true]);
  const whole = shareDifference(0, 10, 10, 10);
  expect(whole.high).toBeCloseTo(1, 6);
  expect(whole.low).toBeGreaterThan(0.6);
  const none = shareDifference(10, 10, 10, 10);
  expect(none.low + none.high).toBeCloseTo(0, 6);
});
