/** Small drawings worked by hand: where dots, places, rows of heads, ticks and points fall, and what is said of them. */
import { describe, expect, it } from "vitest";
import { axisFor } from "../../src/diagram/chart/axis.js";
import { ENGLISH_MAP_WORDS, scalpMap, trendChart } from "../../src/diagram/diagram.js";
import { HOME } from "../../src/diagram/head/head.js";
import { VIEWS } from "../../src/diagram/head/head-view.js";
import { spread } from "../../src/diagram/map/place.js";
import { dotGrid, inside } from "../../src/diagram/polygon.js";
import { REGIONS } from "../../src/visit/visit.js";
import { measure, readSvg } from "./read-svg.js";
import { site } from "./site.js";

const words = ENGLISH_MAP_WORDS;
const SQUARE = [
  [0, 0],
  [4, 0],
  [4, 4],
  [0, 4],
] as const;

describe("a square of four by four", () => {
  it("holds dots two apart, each second row moved by half", () => {
    const rows = new Map<number, number[]>();
    for (const [x, y] of dotGrid(SQUARE, 2, 0.5)) rows.set(y, [...(rows.get(y) ?? []), x]);
    expect(rows.get(2)).toEqual([1, 3]);
    expect(rows.get(4) ?? rows.get(0)).toEqual([2]);
  });

  it("counts its own side as inside, and nothing beside it", () => {
    expect([-0.1, 0, 2, 4, 4.1].map((x) => inside(SQUARE, [x, 2]))).toEqual([false, true, true, true, false]);
  });
});

describe("five heads", () => {
  const rowsAt = (width: number) => {
    const drawn = readSvg(scalpMap({ sites: [], words, views: VIEWS, width, key: false }).svg);
    const tops = VIEWS.map((view) => {
      const name = drawn.find(({ name: element, text }) => element === "text" && text === words.views[view]);
      return name ? measure(name, "y") : Number.NaN;
    });
    const rows = [...new Set(tops)].sort((a, b) => a - b);
    return rows.map((top) => VIEWS.filter((_, i) => tops[i] === top));
  };

  it.each([270, 300])("on paper %i wide stand as both sides and the top, then face and back", (width) => {
    expect(rowsAt(width)).toEqual([
      ["left", "above", "right"],
      ["front", "behind"],
    ]);
  });
});

describe("a place in words", () => {
  const said = (region: (typeof REGIONS)[number], x: number, y: number) =>
    scalpMap({ sites: [site(region, undefined, { x, y })], words })
      .alt.split(". ")[1]
      ?.replace(/\.$/u, "");
  const regionOf = (view: (typeof VIEWS)[number]) =>
    REGIONS.find((region) => HOME[region] === view) ?? "nape";

  it("is the middle third, the ends of it taken in", () => {
    const at = (y: number) => said("vertex", 0.5, y)?.split(", ")[1];
    expect([0.33, 0.34, 0.6, 0.66, 0.67].map(at)).toEqual([
      "towards the front",
      "in the middle",
      "in the middle",
      "in the middle",
      "towards the back",
    ]);
  });

  it.each([
    ["front", "upper part and towards the patient's right", "lower part and towards the patient's left"],
    ["left", "upper part and towards the front", "lower part and towards the back"],
    [
      "above",
      "towards the front and towards the patient's left",
      "towards the back and towards the patient's right",
    ],
    ["right", "upper part and towards the back", "lower part and towards the front"],
    ["behind", "upper part and towards the patient's left", "lower part and towards the patient's right"],
  ] as const)("means on the patient what it means in the view from %s", (view, topLeft, bottomRight) => {
    const region = regionOf(view);
    const name = words.regions[region];
    expect(said(region, 0, 0)).toBe(`Site 1: ${name}, ${topLeft}`);
    expect(said(region, 1, 1)).toBe(`Site 1: ${name}, ${bottomRight}`);
  });
});

describe("sites without a place", () => {
  it("share the length of their region evenly, none at an end", () => {
    expect([0, 1, 2].map((i) => spread(i, 3, "columns"))).toEqual([
      [0.25, 0.5],
      [0.5, 0.5],
      [0.75, 0.5],
    ]);
    expect(spread(0, 1, "rows")).toEqual([0.5, 0.42]);
  });

  it("stand in rows of four when there are more", () => {
    expect([0, 3, 4, 5].map((i) => spread(i, 6, "rows"))).toEqual([
      [0.125, 0.25],
      [0.875, 0.25],
      [0.25, 0.75],
      [0.75, 0.75],
    ]);
  });
});

describe("an axis", () => {
  it("begins at zero unless that would flatten the change: from three quarters on it does", () => {
    expect(axisFor([74, 100]).low).toBe(0);
    expect(axisFor([76, 100]).low).toBe(75);
  });
});

describe("points of a trend", () => {
  const spots = (...dates: string[]) => {
    const points = dates.map((date, i) => ({ label: `visit ${i}`, date, value: 10 + i }));
    return readSvg(trendChart({ title: "Density", unit: "per cm²", points }).svg)
      .filter(({ name }) => name === "circle")
      .map((dot) => measure(dot, "cx"));
  };
  const share = ([first = 0, second = 0, last = 0]: number[]) => (second - first) / (last - first);

  it("stand by date where the dates go forward, else evenly", () => {
    expect(share(spots("2026-01-01", "2026-01-11", "2026-02-10"))).toBeCloseTo(0.25, 1);
    expect(share(spots("2026-01-01", "2026-01-01", "2026-02-10"))).toBeCloseTo(0.5, 1);
  });
});
