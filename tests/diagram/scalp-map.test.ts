import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ENGLISH_MAP_WORDS, ENGLISH_PLAIN_MAP_WORDS, scalpMap } from "../../src/diagram/diagram.js";
import { REGIONS } from "../../src/visit/visit.js";
import { runs } from "../runs.js";
import { corners, discs, measure, outside, readSvg } from "./read-svg.js";
import { site } from "./site.js";

const words = ENGLISH_MAP_WORDS;

const unit = fc.double({ min: 0, max: 1, noNaN: true });
const aSite = fc
  .record({
    region: fc.constantFrom(...REGIONS),
    patch: fc.option(
      fc.record(
        {
          lengthMm: fc.double({ min: 0.5, max: 400, noNaN: true }),
          widthMm: fc.double({ min: 0.5, max: 400, noNaN: true }),
          margin: fc.constantFrom("sharp" as const, "blurred" as const),
        },
        { requiredKeys: ["lengthMm", "widthMm"] },
      ),
      { nil: undefined },
    ),
    at: fc.option(fc.record({ x: unit, y: unit }), { nil: undefined }),
  })
  .map(({ region, patch, at }) => site(region, patch, at));
const percent = fc.double({ min: 0, max: 100, noNaN: true });
const anExtent = fc.record(
  { top: percent, left: percent, right: percent, back: percent },
  { requiredKeys: [] },
);
const anInput = fc.record(
  {
    sites: fc.array(aSite, { maxLength: 24 }),
    extent: anExtent,
    style: fc.constantFrom("clinical" as const, "plain" as const),
    width: fc.double({ min: 240, max: 700, noNaN: true }),
    textSize: fc.constantFrom(6, 7.5, 9, 12, 18),
    key: fc.boolean(),
    ageYears: fc.integer({ min: 0, max: 90 }),
  },
  { requiredKeys: ["sites", "style", "width", "textSize", "key", "ageYears"] },
);

describe("any sites and any extent", () => {
  it("give well-formed drawings with all ink inside", () => {
    fc.assert(
      fc.property(anInput, (input) => {
        const map = scalpMap({ ...input, words });
        expect(outside(readSvg(map.svg))).toEqual([]);
      }),
      { numRuns: runs(50) },
    );
  });

  it("give one number to every site, none over another", () => {
    fc.assert(
      fc.property(anInput, (input) => {
        const map = scalpMap({ ...input, words, key: false });
        const found = discs(readSvg(map.svg));
        expect(found.map(({ number }) => number).sort((a, b) => a - b)).toEqual(
          input.sites.map((_, i) => i + 1),
        );
        expect(map.pins).toEqual(input.sites.map((s, i) => ({ number: i + 1, site: s.site })));
        found.forEach((a, i) => {
          for (const b of found.slice(i + 1)) {
            expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(a.r + b.r - 0.02);
          }
        });
      }),
      { numRuns: runs(50) },
    );
  });

  it("are told in the text alternative, every site, patch and area", () => {
    fc.assert(
      fc.property(anInput, (input) => {
        const { alt } = scalpMap({ ...input, words });
        input.sites.forEach((s, i) => {
          const start = alt.indexOf(`Site ${i + 1}: ${words.regions[s.site]}`);
          expect(start).toBeGreaterThanOrEqual(0);
          const sentence = alt.slice(
            start,
            alt.indexOf(`Site ${i + 2}:`) > 0 ? alt.indexOf(`Site ${i + 2}:`) : undefined,
          );
          if (s.patch !== undefined)
            expect(sentence).toContain(`${Math.round(s.patch.lengthMm * 10) / 10} by `);
        });
        for (const area of ["top", "left", "right", "back"] as const) {
          const lost = input.extent?.[area];
          if (lost !== undefined)
            expect(alt).toContain(`${words.areas[area]}: ${Math.round(lost * 10) / 10}\u00a0%`);
        }
      }),
      { numRuns: runs(40) },
    );
  });

  it("survive any words, however odd or long", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary", maxLength: 60 }), (odd) => {
        const map = scalpMap({
          sites: [site("vertex", { lengthMm: 30, widthMm: 20 }), site("nape")],
          extent: { top: 30 },
          words: {
            ...words,
            regions: { ...words.regions, vertex: odd, nape: `<&"${odd}` },
            views: { ...words.views, above: odd },
            legendTitle: odd,
          },
        });
        readSvg(map.svg);
      }),
      { numRuns: runs(50) },
    );
  });
});

describe("patches", () => {
  const axes = (lengthMm: number, widthMm: number) => {
    const map = scalpMap({
      sites: [site("left parietal", { lengthMm, widthMm }, { x: 0.5, y: 0.25 })],
      words,
      key: false,
    });
    // The first ellipse is the patch, the last the sample in the legend.
    const patch = readSvg(map.svg).find(({ name }) => name === "ellipse")!;
    return [measure(patch, "rx"), measure(patch, "ry")] as const;
  };

  it("grow in step with their millimetres", () => {
    const [length, width] = axes(12, 9);
    expect(axes(24, 9)[0] / length).toBeCloseTo(2, 1);
    expect(axes(36, 9)[0] / length).toBeCloseTo(3, 1);
    expect(axes(12, 18)[1] / width).toBeCloseTo(2, 1);
    expect(length / width).toBeCloseTo(12 / 9, 1);
  });

  it("agree with the scale bar", () => {
    const svg = scalpMap({
      sites: [site("left parietal", { lengthMm: 25, widthMm: 25 }, { x: 0.5, y: 0.3 })],
      words,
    }).svg;
    const elements = readSvg(svg);
    const patch = elements.find(({ name }) => name === "ellipse")!;
    const text = elements.findIndex((e) => /^\d+\u00a0mm$/.test(e.text));
    const bar = corners(elements[text - 1]!).map(([x]) => x);
    const pointsPerMm = (Math.max(...bar) - Math.min(...bar)) / Number.parseInt(elements[text]!.text, 10);
    expect(measure(patch, "rx") * 2).toBeCloseTo(25 * pointsPerMm, 0);
  });

  it("larger than the head are cut at the hair margin and stay white where they lie", () => {
    const map = scalpMap({ sites: [site("vertex", { lengthMm: 400, widthMm: 400 })], words });
    expect(outside(readSvg(map.svg))).toEqual([]);
    expect(map.alt).toContain("400 by 400 millimetres");
  });
});

describe("left and right", () => {
  const discOf = (...sites: ReturnType<typeof site>[]) =>
    discs(readSvg(scalpMap({ sites, words, key: false }).svg));

  it("of the patient stand on the right side of the paper", () => {
    // From above and behind the patient's left is the page's left; facing the patient it is the page's right.
    const [leftSide, rightSide] = discOf(site("left parietal"), site("right parietal"));
    expect(leftSide!.x).toBeLessThan(rightSide!.x);
    const brows = discOf(site("left eyebrow"), site("right eyebrow"));
    expect(brows.find(({ number }) => number === 1)!.x).toBeGreaterThan(
      brows.find(({ number }) => number === 2)!.x,
    );
    const near = discOf(
      site("occipital", undefined, { x: 0.05, y: 0.5 }),
      site("occipital", undefined, { x: 0.95, y: 0.5 }),
    );
    expect(near[0]!.x).toBeLessThan(near[1]!.x);
  });

  it("are named beside every view that has two sides, in the order they lie there", () => {
    const elements = readSvg(
      scalpMap({ sites: [site("left eyebrow"), site("occipital")], words, key: false }).svg,
    );
    const sides = elements.filter(({ text }) => text === "Left" || text === "Right");
    const order = sides.sort((a, b) => measure(a, "x") - measure(b, "x")).map(({ text }) => text);
    // Front, then behind.
    expect(order).toEqual(["Right", "Left", "Left", "Right"]);
  });

  it("in the text alternative follow the patient, not the page", () => {
    const say = (s: ReturnType<typeof site>) => scalpMap({ sites: [s], words }).alt;
    expect(say(site("frontal hairline", undefined, { x: 0.9, y: 0.5 }))).toContain(
      "towards the patient's left",
    );
    expect(say(site("occipital", undefined, { x: 0.9, y: 0.5 }))).toContain("towards the patient's right");
    expect(say(site("left temporal", undefined, { x: 0.1, y: 0.5 }))).toContain("towards the front");
    expect(say(site("right temporal", undefined, { x: 0.1, y: 0.5 }))).toContain("towards the back");
  });
});

describe("views", () => {
  const captions = (map: { svg: string }) =>
    readSvg(map.svg)
      .map(({ text }) => text)
      .filter((text) => Object.values(words.views).includes(text));

  it("are only those needed, and always the one from above", () => {
    expect(captions(scalpMap({ sites: [site("left parietal")], words }))).toEqual([
      "Left side",
      "From above",
    ]);
    expect(captions(scalpMap({ sites: [site("frontal hairline")], words }))).toEqual([
      "From the front",
      "From above",
    ]);
    expect(captions(scalpMap({ sites: [], words }))).toEqual(["From above"]);
    expect(captions(scalpMap({ sites: [], extent: { right: 10, back: 0 }, words }))).toEqual([
      "From above",
      "Right side",
    ]);
  });

  it("asked for are added, needed ones never dropped", () => {
    expect(captions(scalpMap({ sites: [site("nape")], views: ["left"], words }))).toEqual([
      "Left side",
      "From above",
      "From behind",
    ]);
  });
});

it("an area at nought and an area not estimated are told apart", () => {
  const { svg, alt } = scalpMap({ sites: [], extent: { top: 0, left: 20 }, words });
  expect(alt).toContain("Top: 0\u00a0%");
  expect(alt).toContain("Right side: not estimated");
  expect(readSvg(svg).map(({ text }) => text)).toContain("Right side: not estimated");
});

it("the plain style uses everyday names and type of at least 12 points", () => {
  const { svg, alt } = scalpMap({
    sites: [site("vertex", { lengthMm: 20, widthMm: 20 })],
    words: ENGLISH_PLAIN_MAP_WORDS,
    style: "plain",
  });
  const texts = readSvg(svg).filter(({ name }) => name === "text");
  expect(alt).toContain("Crown");
  expect(alt).not.toContain("Vertex");
  for (const text of texts.filter(({ text }) => !/^\d+$/.test(text))) {
    expect(measure(text, "font-size"), text.text).toBeGreaterThanOrEqual(12);
  }
});

it("the same input gives the same drawing", () => {
  const input = {
    sites: [site("vertex"), site("nape", { lengthMm: 20, widthMm: 10 })],
    extent: { top: 55 },
    words,
  };
  expect(scalpMap(input).svg).toBe(scalpMap(input).svg);
});

it("the number of an eyebrow stands above it, not on the eye", () => {
  for (const width of [250, 300, 482, 600]) {
    const sites = [site("left eyebrow"), site("right eyebrow")];
    const elements = readSvg(scalpMap({ sites, words, key: false, width }).svg);
    // Eyebrows are the only shapes of this grey.
    const brows = elements.filter(({ attributes }) => attributes.fill === "#c4c4c4");
    expect(brows).toHaveLength(2);
    const top = Math.min(...brows.flatMap((brow) => corners(brow).map(([, y]) => y)));
    for (const disc of discs(elements)) expect(disc.y + disc.r - 1, `at width ${width}`).toBeLessThan(top);
  }
});

describe("the heads kept from one drawing to the next", () => {
  it("do not show in it: a map comes out the same after any others", () => {
    const input = {
      sites: [site("vertex"), site("occipital", { lengthMm: 30, widthMm: 20 })],
      extent: { top: 40, back: 80 },
      words,
    };
    const first = scalpMap(input).svg;
    // Another extent and other numbers at the same place, then more widths than heads are kept.
    expect(scalpMap({ ...input, sites: [site("frontal"), site("nape")], extent: { top: 90 } }).svg).not.toBe(
      first,
    );
    expect(scalpMap(input).svg).toBe(first);
    for (let width = 300; width < 360; width++) scalpMap({ ...input, width });
    expect(scalpMap(input).svg).toBe(first);
  });
});
