import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { axisFor, short } from "../../src/diagram/chart/axis.js";
import { barPair, rangeBar, trendChart } from "../../src/diagram/diagram.js";
import { runs } from "../runs.js";
import { measure, outside, readSvg } from "./read-svg.js";

const anyNumber = fc.oneof(
  fc.double({ min: -1e4, max: 1e4, noNaN: true }),
  fc.constantFrom(0, 1e-9, 1e12, -1e12, 1e308, -1e308, 5e-324),
);
const aPoint = fc
  .record({
    label: fc.string({ maxLength: 14 }),
    value: anyNumber,
    down: anyNumber,
    up: anyNumber,
    bare: fc.boolean(),
  })
  .map(({ label, value, down, up, bare }) =>
    bare ? { label, value } : { label, value, low: Math.min(value, down), high: Math.max(value, up) },
  );
const normal = fc.option(
  fc.record(
    { label: fc.string({ maxLength: 30 }), low: anyNumber, high: anyNumber },
    { requiredKeys: ["label"] },
  ),
  { nil: undefined },
);

describe("any values", () => {
  it("give a trend chart with all ink inside", () => {
    fc.assert(
      fc.property(
        fc.array(aPoint, { maxLength: 12 }),
        normal,
        fc.option(anyNumber, { nil: undefined }),
        (points, range, line) => {
          const chart = trendChart({
            title: "Hair density",
            unit: "/cm²",
            points,
            ...(range === undefined ? {} : { normal: range }),
            ...(line === undefined ? {} : { threshold: { value: line, label: "line" } }),
          });
          expect(outside(readSvg(chart.svg), 6)).toEqual([]);
        },
      ),
      { numRuns: runs(100) },
    );
  });

  it("give range bars and paired bars with all ink inside", () => {
    fc.assert(
      fc.property(aPoint, aPoint, normal, (a, b, range) => {
        const bar = rangeBar({ measured: a, unit: "%", ...(range === undefined ? {} : { normal: range }) });
        expect(outside(readSvg(bar.svg), 2)).toEqual([]);
        const two = barPair({ title: "t", unit: "%", pair: [a, b] });
        expect(outside(readSvg(two.svg), 6)).toEqual([]);
      }),
      { numRuns: runs(100) },
    );
  });

  it("have an axis that holds them, with few round ticks", () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -1e9, max: 1e9, noNaN: true }), { maxLength: 8 }), (values) => {
        const axis = axisFor(values);
        expect(axis.ticks.length).toBeGreaterThanOrEqual(2);
        expect(axis.ticks.length).toBeLessThanOrEqual(8);
        expect(axis.high).toBeGreaterThan(axis.low);
        for (const value of values) {
          // Values too small to be drawn count as zero.
          const slack = (axis.high - axis.low) * 1e-6 + 1e-99;
          expect(value).toBeGreaterThanOrEqual(axis.low - slack);
          expect(value).toBeLessThanOrEqual(axis.high + slack);
        }
      }),
    );
  });
});

describe("a trend", () => {
  const points = [
    { label: "12 Mar 2026", date: "2026-03-12", value: 142, low: 118, high: 168 },
    { label: "4 Jun 2026", date: "2026-06-04", value: 151, low: 127, high: 179 },
    { label: "3 Jun 2027", date: "2027-06-03", value: 183, low: 156, high: 214 },
  ];
  const dotsOf = (svg: string) => readSvg(svg).filter(({ name }) => name === "circle");

  it("says every value with its interval and unit, and the normal range", () => {
    const { alt } = trendChart({
      title: "Density",
      unit: "/cm²",
      points,
      normal: { low: 124, high: 200, label: "Normal" },
    });
    expect(alt).toContain("3 visits");
    for (const p of points)
      expect(alt).toContain(`${p.label}: ${p.value}/cm² (interval ${p.low} to ${p.high})`);
    expect(alt).toContain("Normal: 124 to 200/cm²");
  });

  it("sets dated points as far apart as the visits were", () => {
    const xs = dotsOf(trendChart({ title: "d", unit: "", points }).svg).map((dot) => measure(dot, "cx"));
    expect((xs[2]! - xs[1]!) / (xs[1]! - xs[0]!)).toBeCloseTo(364 / 84, 1);
    const even = dotsOf(
      trendChart({ title: "d", unit: "", points: points.map(({ date: _, ...p }) => p) }).svg,
    );
    expect(measure(even[2]!, "cx") - measure(even[1]!, "cx")).toBeCloseTo(
      measure(even[1]!, "cx") - measure(even[0]!, "cx"),
      1,
    );
  });

  it("draws the greater value higher and equal values level", () => {
    const ys = dotsOf(trendChart({ title: "d", unit: "", points }).svg).map((dot) => measure(dot, "cy"));
    expect(ys[0]).toBeGreaterThan(ys[1]!);
    expect(ys[1]).toBeGreaterThan(ys[2]!);
    const level = dotsOf(
      trendChart({ title: "d", unit: "", points: points.map((p) => ({ ...p, value: 150 })) }).svg,
    );
    expect(new Set(level.map((dot) => measure(dot, "cy"))).size).toBe(1);
  });

  it("of one visit is one point, of none says so", () => {
    expect(dotsOf(trendChart({ title: "d", unit: "", points: points.slice(0, 1) }).svg)).toHaveLength(1);
    expect(trendChart({ title: "d", unit: "", points: [] }).alt).toContain("no value");
  });
});

it("a value outside the normal range stands outside its band", () => {
  const { svg, alt } = rangeBar({
    measured: { label: "Thin hairs", value: 31, low: 24, high: 39 },
    unit: "%",
    normal: { high: 10, label: "Normal" },
  });
  const elements = readSvg(svg);
  const band = elements.find(({ name }) => name === "rect")!;
  const dot = elements.find(({ name }) => name === "circle")!;
  expect(measure(dot, "cx")).toBeGreaterThan(measure(band, "x") + measure(band, "width"));
  expect(alt).toBe("Thin hairs: 31 % (interval 24 to 39). Normal: up to 10 %.");
});

it("paired bars are as long as their values", () => {
  const svg = barPair({
    title: "t",
    unit: "",
    pair: [
      { label: "front", value: 50 },
      { label: "back", value: 200 },
    ],
  }).svg;
  const [a, b] = readSvg(svg).filter(({ name }) => name === "rect");
  expect(measure(b!, "width") / measure(a!, "width")).toBeCloseTo(4, 1);
});

it("numbers are short", () => {
  expect([0, 0.123456, 12.34, 142.4, 999999, 1.2e12, 3e-5, -4.5].map(short)).toEqual([
    "0",
    "0.123",
    "12.3",
    "142",
    "999999",
    "1.2 × 10¹²",
    "3 × 10⁻⁵",
    "-4.5",
  ]);
});

it("a value that is no number is left out of the drawing and said so", () => {
  const measured = { label: "Density", value: Number.NaN, low: 1, high: 2 };
  const { svg, alt } = rangeBar({ measured, unit: "/cm²" });
  expect(readSvg(svg).filter(({ name }) => name === "circle")).toEqual([]);
  expect(alt).toBe("Density: no value.");
  expect(outside(readSvg(barPair({ title: "t", unit: "", pair: [measured, measured] }).svg))).toEqual([]);
});

describe("the normal band", () => {
  const grey = (normal?: { label: string; low?: number; high?: number }) =>
    (
      trendChart({
        title: "Hair density",
        unit: "/cm\u00b2",
        points: [
          { label: "March", value: 120 },
          { label: "June", value: 140 },
        ],
        ...(normal ? { normal } : {}),
      }).svg.match(/<rect[^>]*fill="#e9e9e9"/gu) ?? []
    ).length;
  it("is grey behind the points and in its key, where a limit is known", () => {
    expect(grey({ label: "usual", low: 100, high: 150 })).toBe(2);
    expect(grey({ label: "usual", low: 100 })).toBe(2);
    expect(grey()).toBe(0);
  });
});
