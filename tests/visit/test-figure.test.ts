/** A test's figure, its range and the side on which it lies outside, from fields or from words. */
import { describe, expect, it } from "vitest";
import { figureOf, isOutside, rangeOf, sideOf } from "../../src/visit/test-figure.js";

describe("the range that a result tells", () => {
  it.each([
    ["7 ug/L (ref 30-400)", { low: 30, high: 400 }],
    ["7 ug/L (normal 130 to 170)", { low: 130, high: 170 }],
    ["2.1 (ref <1.8)", { high: 1.8 }],
    ["2.1 nmol/L (ref below 1.8), HIGH", { high: 1.8 }],
    ["2,1 (Norm unter 1,8)", { high: 1.8 }],
    ["2.1 [up to 1.8]", { high: 1.8 }],
    ["2.1 (ref max. 1.8)", { high: 1.8 }],
    ["2,1 (rango hasta 1,8)", { high: 1.8 }],
    ["12 (ref >30)", { low: 30 }],
    ["12 (ref above 30)", { low: 30 }],
    ["12 (ref at least 30)", { low: 30 }],
    ["12 below 30 last year", {}],
  ])("%s", (result, range) => {
    expect(rangeOf({ result })).toEqual(range);
  });

  it("gives way to the fields", () => {
    expect(rangeOf({ result: "7 (ref 30-400)", range: { low: 10 } })).toEqual({ low: 10 });
  });
});

it.each([
  ["7 ug/L", 7],
  ["<3", 3],
  ["11,2 nmol/L", 11.2],
  ["1:64", undefined],
  ["3/5", undefined],
  ["negative", undefined],
])("the figure of %s", (result, figure) => {
  expect(figureOf({ result })).toBe(figure);
});

describe("the side", () => {
  it.each([
    ["29 (ref 30-400)", "low"],
    ["30 (ref 30-400)", undefined],
    ["400 (ref 30-400)", undefined],
    ["401 (ref 30-400)", "high"],
    // By figure and range, whatever the words.
    ["40 (ref 30-400), low", undefined],
    ["raised", "high"],
    ["not raised", undefined],
    ["baja", "low"],
  ])("of %s", (result, side) => {
    expect(sideOf({ result })).toBe(side);
  });

  it("asks for so many times the upper end, where that is asked", () => {
    expect(isOutside({ result: "3.5 (ref below 1.8)" }, "high", 2)).toBe(false);
    expect(isOutside({ result: "3.6 (ref below 1.8)" }, "high", 2)).toBe(true);
    expect(isOutside({ result: "high" }, "high", 2)).toBe(false);
    expect(isOutside({ result: "high" }, "high")).toBe(true);
    expect(isOutside({ result: "high" }, "low")).toBe(false);
  });
});
