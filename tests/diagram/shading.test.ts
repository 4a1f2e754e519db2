/** Shades of hair loss: where each begins, and that neighbours differ without their grey. */
import { expect, it } from "vitest";
import { ENGLISH_MAP_WORDS, scalpMap } from "../../src/diagram/diagram.js";
import { SHADES, shadeOf } from "../../src/diagram/map/shading.js";
import { readSvg } from "./read-svg.js";
import { site } from "./site.js";

it.each([
  [-1, 0],
  [0, 0],
  [0.1, 1],
  [12.4, 1],
  [12.5, 2],
  [24.9, 2],
  [25, 3],
  [37.5, 4],
  [49.9, 4],
  [50, 5],
  [62.5, 6],
  [70, 6],
  [75, 7],
  [87.5, 8],
  [99.9, 8],
  [100, 9],
])("%s percent takes step %s", (percent, step) => {
  expect(SHADES.indexOf(shadeOf(percent))).toBe(step);
});

it("each step is darker than the last, and differs from all others by its dots or lines alone", () => {
  const greys = SHADES.map(({ grey }) => Number.parseInt(grey.slice(1, 3), 16));
  greys.slice(1).forEach((grey, i) => {
    expect((greys[i] ?? 0) - grey).toBeGreaterThanOrEqual(10);
  });
  expect(new Set(SHADES.map(({ hatch, dots }) => JSON.stringify([hatch, dots]))).size).toBe(SHADES.length);
});

it("no word on a map is under 8 points, whatever is asked for", () => {
  const { svg } = scalpMap({
    sites: [site("vertex", { lengthMm: 40, widthMm: 20 }), site("left eyebrow")],
    extent: { top: 40, left: 10, right: 0, back: 100 },
    words: ENGLISH_MAP_WORDS,
    textSize: 8,
  });
  const sizes = readSvg(svg).flatMap(({ name, attributes }) =>
    name === "text" ? Number(attributes["font-size"]) : [],
  );
  expect(Math.min(...sizes)).toBe(8);
});
