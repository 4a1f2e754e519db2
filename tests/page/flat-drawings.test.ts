/** Drawings drawn without the engine's SVG reader look as if drawn with it. */
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  ENGLISH_MAP_WORDS,
  ENGLISH_PLAIN_MAP_WORDS,
  PICTOGRAM_IDS,
  pictogram,
  rangeBar,
  scalpMap,
  trendChart,
} from "../../src/diagram/diagram.js";
import { isFlat } from "../../src/page/drawing/flat-drawing.js";
import { drawFlat } from "../../src/page/pdfmake/draw-drawing.js";
import type { EngineDocument } from "../../src/page/pdfmake/engine.js";
import { REGIONS } from "../../src/visit/visit.js";
import { site } from "../diagram/site.js";
import { letterOf, readBack, rendered } from "./read-back.js";

const svg = (body: string, root = "") =>
  `<svg xmlns="http://www.w3.org/2000/svg" width="20" height="10" viewBox="0 0 20 10"${root}>${body}</svg>`;

/** The operators of a drawing at its own size at the top left of the page. */
function operatorsOf(drawing: string): string[] {
  const drawn: string[] = [];
  const pdf = { addContent: (text: string) => drawn.push(text) } as unknown as EngineDocument;
  expect(drawFlat(pdf, { svg: drawing, x: 0, y: 0, _width: 20, _height: 10 })).toBe(true);
  return drawn.join("\n").split("\n");
}

test("every drawing of ours is flat, so that no letter is slow", () => {
  const patch = { lengthMm: 40, widthMm: 25, margin: "blurred" as const };
  const sites = REGIONS.map((region, i) => site(region, i % 3 === 0 ? patch : undefined));
  const extent = { top: 60, left: 30, right: 80, back: 100 };
  const drawings = [
    ...PICTOGRAM_IDS.map((id) => pictogram(id, `A <${id}> & "more"`) ?? ""),
    scalpMap({ sites, extent, words: ENGLISH_MAP_WORDS }).svg,
    scalpMap({ sites, words: ENGLISH_PLAIN_MAP_WORDS, style: "plain", ageYears: 6 }).svg,
    trendChart({
      title: "Density",
      unit: "/cm²",
      points: [
        { label: "12 Mar", value: 142, low: 118, high: 168 },
        { label: "9 Sep", value: 160, low: 130, high: 190 },
      ],
      normal: { low: 124, label: "normal" },
    }).svg,
    rangeBar({
      measured: { label: "Density", value: 142 },
      unit: "/cm²",
      normal: { low: 124, label: "normal" },
    }).svg,
  ];
  expect(drawings.filter((drawing) => !isFlat(drawing))).toEqual([]);
});

test.each([
  ["M1 2L3 4", ["1 2 m", "3 4 l"]],
  ["M1 2l3 4h5v-6H1V2Z", ["1 2 m", "4 6 l", "9 6 l", "9 0 l", "1 0 l", "1 2 l", "h"]],
  ["M0 0Q3 6 6 0", ["0 0 m", "2 4 4 4 6 0 c"]],
  ["M1 2C3 4 5 6 7 8 9 1 2 3 4 5", ["1 2 m", "3 4 5 6 7 8 c", "9 1 2 3 4 5 c"]],
])("the path %s", (d, wanted) => {
  const drawn = operatorsOf(svg(`<path d="${d}" fill="none" stroke="#000000"/>`));
  const from = drawn.indexOf(wanted[0] ?? "");
  expect(drawn.slice(from, from + wanted.length)).toEqual(wanted);
});

test.each([
  ["1 0", 5],
  ["0 1", -5],
])("a half circle with the flags %s bulges to the right side", (flags, side) => {
  const drawn = operatorsOf(svg(`<path d="M2 5a5 5 0 ${flags} 10 0" fill="#ff0000"/>`));
  const curves = drawn.filter((line) => line.endsWith(" c")).map((line) => line.split(" ").map(Number));
  expect(curves.map((curve) => curve.slice(4, 6))).toEqual([
    [7, 5 + side],
    [12, 5],
  ]);
});

test("a circle's curves keep to its radius", () => {
  const drawn = operatorsOf(svg('<circle cx="8" cy="4" r="3" fill="#00ff00"/>'));
  const at = (t: number, [a, b, c, d]: readonly number[]) =>
    (1 - t) ** 3 * (a ?? 0) +
    3 * (1 - t) ** 2 * t * (b ?? 0) +
    3 * (1 - t) * t ** 2 * (c ?? 0) +
    t ** 3 * (d ?? 0);
  let [x, y] = [11, 4];
  for (const line of drawn.filter((text) => text.endsWith(" c"))) {
    const [x1 = 0, y1 = 0, x2 = 0, y2 = 0, x3 = 0, y3 = 0] = line.split(" ").map(Number);
    for (const t of [0.2, 0.5, 0.8]) {
      expect(Math.hypot(at(t, [x, x1, x2, x3]) - 8, at(t, [y, y1, y2, y3]) - 4)).toBeCloseTo(3, 2);
    }
    [x, y] = [x3, y3];
  }
  expect([x, y]).toEqual([11, 4]);
});

test.each([
  ["fill and line", 'fill="#ff0000" stroke="#0000ff"', "B"],
  ["fill alone", 'fill="#ff0000"', "f"],
  ["line alone", 'fill="none" stroke="#0000ff"', "S"],
])("%s", (_, paint, operator) => {
  expect(operatorsOf(svg(`<rect x="1" y="1" width="5" height="3" ${paint}/>`))).toContain(operator);
});

test.each([
  ["a group", "<g/>"],
  ["a transform", '<path d="M0 0L1 1" transform="scale(2)"/>'],
  ["opacity", '<path d="M0 0L1 1" opacity="0.5"/>'],
  ["a named colour", '<path d="M0 0L1 1" fill="red"/>'],
  ["a relative curve", '<path d="M0 0c1 1 2 2 3 3"/>'],
  ["an arc that is no half circle", '<path d="M0 0a5 5 0 0 1 3 3"/>'],
  ["a number in exponent form", '<path d="M0 0L1e-3 1"/>'],
  ["a missing size", '<circle cx="1" cy="1"/>'],
  ["a tspan", '<text x="1" y="1" font-size="4">a<tspan>b</tspan></text>'],
  ["an unknown entity", '<text x="1" y="1" font-size="4">&nbsp;</text>'],
  ["words between shapes", "words"],
  ["an operator in an attribute", '<path d="M0 0L1 1" stroke="#000000" stroke-width="1 Tf"/>'],
])("%s is left to the engine", (_, body) => {
  expect(isFlat(svg(body))).toBe(false);
});

test("no attribute can put an operator of its own on the page", () => {
  const names = ["d", "fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap", "transform"];
  const value = fc.string({ maxLength: 12 }).map((text) => text.replace(/["<>&]/g, ""));
  fc.assert(
    fc.property(fc.constantFrom(...names), value, (name, text) => {
      const rest = name === "d" ? "" : ' d="M0 0L1 1"';
      const drawing = svg(`<path${rest} ${name}="${text}"/>`);
      if (!isFlat(drawing)) return;
      for (const line of operatorsOf(drawing)) {
        expect(line).toMatch(
          /^(?:(?:-?[\d.]+|\[[\d. ]*\]) ?)*(?:q|Q|cm|re W n|M|m|l|c|h|f|B|S|rg|RG|w \d J \d j \[[\d. ]*\] 0 d)?$/,
        );
      }
    }),
  );
});

test("lettering stands where its anchor says, in the document's typeface", async () => {
  const body = (anchor: string) =>
    `<text x="10" y="8" font-size="2" fill="#000000" text-anchor="${anchor}">Crown &amp; nape</text>`;
  const places = [];
  for (const anchor of ["start", "middle", "end"]) {
    const figure = `<figure>${svg(body(anchor), ' role="img" aria-label="x"')}</figure>`;
    const [page] = await readBack((await rendered(letterOf(figure))).bytes);
    const words = page?.items.find(({ text }) => text === "Crown & nape");
    places.push(words?.leftMm ?? Number.NaN);
  }
  const [start = 0, middle = 0, end = 0] = places;
  expect(start - middle).toBeCloseTo(middle - end, 2);
  expect(start - middle).toBeGreaterThan(1);
});

test("a malformed drawing is refused even where the engine would draw it", async () => {
  const drawing = '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9" aria-label="x"><g></svg>';
  await expect(rendered(letterOf(`<figure>${drawing}</figure>`))).rejects.toThrow("page-failed");
});
