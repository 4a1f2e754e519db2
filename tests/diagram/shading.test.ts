/** Shades of hair loss: where each begins, and that neighbours differ without their grey. */
import { PNG } from "pngjs";
import { expect, it } from "vitest";
import { ENGLISH_MAP_WORDS, scalpMap } from "../../src/diagram/diagram.js";
import { legend } from "../../src/diagram/map/legend.js";
import { SHADES, shaded, shadeOf } from "../../src/diagram/map/shading.js";
import { drawing } from "../../src/diagram/svg.js";
import { pixelsOf } from "../../src/page/drawing/pixels.js";
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

/** Mean lightness, 0 to 1, and share of ink of each step as it is rendered: in grey, and as a copier that knows no grey gives it. */
async function printed(shade: (typeof SHADES)[number]): Promise<{ light: number; ink: number }> {
  const side = 40;
  const square = [
    [0, 0],
    [side, 0],
    [side, side],
    [0, side],
  ] as const;
  const png = await pixelsOf(drawing(side, side, "", shaded(square, shade)), side);
  if (!png) throw new Error("not rendered");
  const { data } = PNG.sync.read(Buffer.from(png));
  const levels = [...data].filter((_, i) => i % 4 === 0);
  const inked = levels.filter((level) => level < 128).length;
  return {
    light: levels.reduce((a, b) => a + b, 0) / levels.length / 255,
    ink: inked / levels.length,
  };
}

it("each step prints darker than the last, and with more ink where a copier loses its grey", async () => {
  const steps = await Promise.all(SHADES.map(printed));

  steps.slice(1).forEach(({ light }, i) => {
    expect((steps[i]?.light ?? 0) - light, `step ${i + 1}`).toBeGreaterThan(0.03);
  });
  // Neighbours of like ink have lines of another slant.
  const slants = SHADES.map(({ hatch, dots }) => `${dots ? "dots" : hatch.map(({ degrees }) => degrees)}`);
  steps.slice(1).forEach(({ ink }, i) => {
    const differs = ink - (steps[i]?.ink ?? 0) > 0.02 || slants[i] !== slants[i + 1];
    expect(differs, `step ${i + 1}`).toBe(true);
  });
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

const words = ENGLISH_MAP_WORDS;
const [patch, where] = [{ lengthMm: 40, widthMm: 20 }, site("left parietal")];
const withEdge = (margin: "sharp" | "blurred") => ({ ...where, patch: { ...patch, margin } });
/** Broken outlines: those of patches, and their sample in the legend. */
const broken = (svg: string) =>
  readSvg(svg).filter(({ attributes }) => attributes["stroke-dasharray"] === "1.6 1.6").length;

it("an edge drawn broken is broken in the legend as well, and said where others are not", () => {
  const alone = scalpMap({ sites: [withEdge("blurred")], words, key: false }).svg;
  const both = scalpMap({ sites: [withEdge("blurred"), withEdge("sharp")], words, key: false }).svg;
  expect(broken(alone)).toBe(2);
  expect(broken(both)).toBe(2);
  expect(both).toContain("Patch, blurred edge");
  expect(alone).not.toContain("Patch, blurred edge");
  expect(broken(scalpMap({ sites: [withEdge("sharp")], words }).svg)).toBe(0);
});

it("the line that says what a broken outline means is as tall as its words need, one below the other", () => {
  const look = {
    scale: 0.4,
    patchScale: 0.4,
    ageYears: 30,
    pinRadius: 6,
    textSize: 8,
    plain: false,
    key: false,
  };
  const said = (width: number) => {
    const [block] = legend([withEdge("blurred"), withEdge("sharp")], undefined, words, width, look);
    const lines = readSvg(drawing(width, 60, "", block?.draw(0, 0) ?? "")).filter(
      ({ name }) => name === "text",
    );
    return [block?.height, ...lines.map(({ attributes }) => Number(attributes.y))];
  };
  expect(said(200)).toEqual([14.4, 10.08]);
  expect(said(90)).toEqual([24.4, 10.08, 20.08]);
});

it("a patient's map, which says nothing of edges, draws them all whole", () => {
  expect(broken(scalpMap({ sites: [withEdge("blurred")], words, style: "plain" }).svg)).toBe(0);
});

it("no ground is grey for a place looked at where shades say how much hair is lost", () => {
  const grounds = (extent?: { back: number }) =>
    scalpMap({ sites: [site("occipital")], words, ...(extent ? { extent } : {}) }).svg.includes("#ececec");
  expect(grounds({ back: 0 })).toBe(false);
  expect(grounds()).toBe(true);
});
