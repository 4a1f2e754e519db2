/** Counts within an area by the edge rule, lengths by the scale, and intervals that hold what they promise. */
import { expect, test } from "vitest";
import { seededDraws } from "../../src/base/draws.js";
import { agreement, pairs } from "../../src/picture/agreement.js";
import { count, measured } from "../../src/picture/count.js";
import { areaPx2, counts, fromEdge, sizeOfOutline } from "../../src/picture/geometry.js";
import { mean, poisson, share, widened } from "../../src/picture/intervals.js";
import type { Area, HairMark, Marks, Point, Scale } from "../../src/picture/marks.js";
import { disagreement, scaleOf } from "../../src/picture/scale.js";

const PHOTO = { file: "a.jpg", sha256: "0".repeat(64), widthPx: 1000, heightPx: 1000 };
const EMPTY: Marks = { photo: PHOTO, counted: [], hairs: [], dots: [], widths: [], arrows: [], patches: [] };
/** A hundred pixels to the millimetre. */
const SCALE: Scale = { kind: "lines", lines: [{ from: [0, 0], to: [1000, 0], lengthMm: 10 }] };
const at = (...points: Point[]): HairMark[] => points.map((point) => ({ at: point }));

const SQUARE: Area = { kind: "rectangle", from: [100, 100], to: [200, 200] };

test.each<[string, Area]>([
  ["rectangle", SQUARE],
  ["rectangle drawn from its other corner", { kind: "rectangle", from: [200, 200], to: [100, 100] }],
  [
    "polygon",
    {
      kind: "polygon",
      corners: [
        [100, 100],
        [200, 100],
        [200, 200],
        [100, 200],
      ],
    },
  ],
  [
    "polygon turned round",
    {
      kind: "polygon",
      corners: [
        [100, 200],
        [200, 200],
        [200, 100],
        [100, 100],
      ],
    },
  ],
])("the left and upper edge of a %s count, the right and lower one never do", (_, area) => {
  const counted = (...point: Point) => counts(area, point);
  expect([counted(100, 150), counted(150, 100), counted(100, 100)]).toEqual([true, true, true]);
  expect([
    counted(200, 150),
    counted(150, 200),
    counted(200, 200),
    counted(100, 200),
    counted(200, 100),
  ]).toEqual([false, false, false, false, false]);
  expect([counted(99.99, 150), counted(199.99, 199.99), counted(200.01, 150)]).toEqual([false, true, false]);
  expect(areaPx2(area)).toBe(10_000);
});

test("areas side by side share no point of a grid and lose none", () => {
  const tiles = [0, 1, 2].flatMap((i) =>
    [0, 1, 2].map((j): Area => ({ kind: "rectangle", from: [i * 4, j * 4], to: [i * 4 + 4, j * 4 + 4] })),
  );
  for (let x = 0; x < 12; x++)
    for (let y = 0; y < 12; y++) expect(tiles.filter((tile) => counts(tile, [x, y]))).toHaveLength(1);
});

test("on the edge of a circle the left half and its topmost point count", () => {
  const circle: Area = { kind: "circle", centre: [50, 50], radiusPx: 25 };
  const counted = (...point: Point) => counts(circle, point);
  expect([counted(25, 50), counted(50, 25), counted(30, 35), counted(74.99, 50)]).toEqual([
    true,
    true,
    true,
    true,
  ]);
  expect([counted(75, 50), counted(50, 75), counted(70, 35), counted(24.99, 50)]).toEqual([
    false,
    false,
    false,
    false,
  ]);
  expect(areaPx2(circle)).toBeCloseTo(1963.495, 3);
  expect(fromEdge(circle, [50, 60])).toBe(15);
  expect(fromEdge(SQUARE, [130, 150])).toBe(30);
  expect(fromEdge(SQUARE, [90, 90])).toBeCloseTo(Math.hypot(10, 10), 9);
});

test("an outline is measured at its longest, and across square to that", () => {
  expect(
    sizeOfOutline([
      [0, 0],
      [30, 0],
      [30, 40],
      [0, 40],
    ]),
  ).toEqual({ length: 50, across: 48 });
});

test("lines of known length give the scale together, and their disagreement its error", () => {
  const lines = (...px: number[]): Scale => ({
    kind: "lines",
    lines: px.map((to, i) => ({ from: [0, i], to: [to, i], lengthMm: 1 })),
  });
  expect(scaleOf({ scale: lines(100) })).toEqual({ mmPerPx: 0.01, error: Math.SQRT2 / 100, lines: 1 });
  expect(scaleOf({ scale: lines(100), blurPx: 3 })?.error).toBeCloseTo((3 * Math.SQRT2) / 100, 12);
  expect(scaleOf({ scale: lines(100), blurPx: 0.4 })?.error).toBeCloseTo(Math.SQRT2 / 100, 12);
  const two = scaleOf({ scale: lines(90, 110) });
  expect(two?.mmPerPx).toBe(0.01);
  // Off by 10 px each: sqrt(2 * (100 + 100) / 1) / 200.
  expect(two?.error).toBeCloseTo(0.1, 12);
  expect(disagreement({ scale: lines(90, 110) })).toBeCloseTo(1 / 9, 12);
  expect(
    scaleOf({ scale: { kind: "lines", lines: [{ from: [5, 5], to: [5, 5], lengthMm: 1 }] } }),
  ).toBeUndefined();
  const field: Scale = { kind: "field", field: { centre: [500, 500], diameterPx: 800, diameterMm: 10 } };
  expect(scaleOf({ scale: field })).toEqual({ mmPerPx: 0.0125, error: Math.SQRT2 / 800, lines: 1 });
  expect(disagreement({ scale: field })).toBe(0);
});

test("hairs, units, classes, dots and widths are counted exactly", () => {
  const marks: Marks = {
    ...EMPTY,
    scale: SCALE,
    area: SQUARE,
    counted: ["hairs", "yellow-dots"],
    hairs: [
      { at: [150, 150], class: "terminal", unit: 1 },
      { at: [152, 150], class: "thin", unit: 1 },
      { at: [120, 150], class: "vellus", unit: 2 },
      // A unit whose middle lies outside takes all its hairs with it; one whose middle lies inside brings them along.
      { at: [199, 150], class: "terminal", unit: 3 },
      { at: [203, 150], class: "terminal", unit: 3 },
      { at: [98, 150], class: "terminal", unit: 4 },
      { at: [103, 150], class: "terminal", unit: 4 },
    ],
    dots: [
      { at: [150, 150], finding: "yellow-dots" },
      { at: [150, 160], finding: "yellow-dots" },
      { at: [250, 150], finding: "yellow-dots" },
      { at: [150, 155], finding: "black-dots" },
    ],
    widths: [
      { from: [0, 0], to: [3, 4] },
      { from: [10, 10], to: [10, 18] },
    ],
  };
  expect(count(marks)).toEqual({
    area: SQUARE,
    scale: { mmPerPx: 0.01, error: Math.SQRT2 / 1000, lines: 1 },
    areaMm2: 1,
    hairs: 5,
    // Within 0.05 mm, five pixels, of the edge: units 3 and 4.
    onEdge: 4,
    classed: true,
    classes: { terminal: 3, thin: 1, vellus: 1 },
    inUnits: true,
    units: { 1: 1, 2: 2 },
    dots: { "yellow-dots": 2, "black-dots": 1 },
    widthsUm: [50, 80],
  });
  const found = measured(marks);
  expect(found.density?.value).toBe(500);
  // Four hairs on the edge stand in 2.4 units; the area is 1 mm².
  const three = widened(poisson(3), Math.sqrt(2.4) / 2);
  const { low, high } = widened(
    { value: 300, low: three.low * 100, high: three.high * 100 },
    (2 * Math.SQRT2 * 300) / 1000,
  );
  expect(found.unitDensity?.value).toBe(300);
  expect(found.unitDensity?.low).toBeCloseTo(low, 9);
  expect(found.unitDensity?.high).toBeCloseTo(high, 9);
  expect(found.hairsPerUnit?.value).toBeCloseTo(5 / 3, 12);
  expect(found.thin?.value).toBe(0.4);
  expect(found.vellus?.value).toBe(0.2);
  expect(found.diameterUm).toMatchObject({ value: 65, n: 2 });
});

test("a hair without class, without unit, and a picture not counted to the last leave those numbers out", () => {
  const marks: Marks = {
    ...EMPTY,
    scale: SCALE,
    area: SQUARE,
    hairs: [{ at: [150, 150], class: "thin", unit: 1 }, { at: [160, 150] }],
  };
  expect(count(marks)).toMatchObject({ hairs: 2, classed: false, inUnits: false });
  expect(measured(marks)).toEqual({});
  expect(Object.keys(measured({ ...marks, counted: ["hairs"] }))).toEqual(["density"]);
  const { scale: _, ...bare } = marks;
  expect(count(bare).areaMm2).toBeUndefined();
  expect(measured({ ...bare, counted: ["hairs"] })).toEqual({});
});

test("without an area the whole picture counts", () => {
  expect(count({ ...EMPTY, hairs: at([0, 0], [999, 999]) }).hairs).toBe(2);
  expect(count({ ...EMPTY, scale: SCALE }).areaMm2).toBeCloseTo(100, 9);
});

test("the errors of counting, of the edge and of the scale join", () => {
  const round = (value: number | undefined) => Number(value?.toFixed(3));
  expect([poisson(10), poisson(0)].map(({ low, high }) => [round(low), round(high)])).toEqual([
    [4.795, 18.39],
    [0, 3.689],
  ]);
  expect([share(81, 263)].map((s) => [round(s?.low), round(s?.high)])).toEqual([[0.255, 0.366]]);
  expect(share(0, 0)).toBeUndefined();
  expect([mean([4, 6])].map((m) => [m?.value, round(m?.low), round(m?.high)])).toEqual([[5, -7.706, 17.706]]);
  const wide = widened({ value: 10, low: 7, high: 14 }, 4 / 1.959963984540054);
  expect([wide.value, round(wide.low), round(wide.high)]).toEqual([10, 5, 15.657]);
  const marks: Marks = {
    ...EMPTY,
    scale: SCALE,
    area: SQUARE,
    counted: ["hairs"],
    hairs: at(...Array.from({ length: 10 }, (_, i): Point => [120 + i, 150])),
  };
  const bare = measured(marks).density;
  // The scale of a line of 1000 px is known to 0.14 %: next to nothing beside ten hairs.
  expect([round(bare?.low), round(bare?.high)]).toEqual([479.509, 1839.054]);
  const edge = measured({
    ...marks,
    hairs: marks.hairs.map((hair, i) => (i < 4 ? { at: [101 + i, 150] } : hair)),
  }).density;
  expect(edge?.value).toBe(1000);
  // Four on the edge: a standard error of one hair.
  expect(edge?.high).toBeCloseTo(
    1000 + Math.hypot(100 * (18.390356 - 10), 195.9964, 1.959964 * 2 * 1000 * 0.0014142),
    1,
  );
  const short: Scale = { kind: "lines", lines: [{ from: [0, 0], to: [10, 0], lengthMm: 0.1 }] };
  const unsure = measured({ ...marks, scale: short }).density;
  expect(unsure?.low).toBeCloseTo(1000 - Math.hypot(1000 - 479.539, 1.959964 * 2 * 1000 * 0.141421), 1);
});

test("an interval of the density holds the truth in at least 95 of 100 pictures, and not nearly always", () => {
  const random = seededDraws("density");
  const draw = () => random.uniform();
  const normal = () => Math.sqrt(-2 * Math.log(1 - draw())) * Math.cos(2 * Math.PI * draw());
  const gap = () => -Math.log(1 - draw());
  let held = 0;
  const PICTURES = 600;
  for (let i = 0; i < PICTURES; i++) {
    // Eighty hairs on average over a square centimetre, whose scale line is off by about one pixel at each end.
    const hairs: HairMark[] = [];
    for (let sum = gap(); sum < 80; sum += gap()) hairs.push({ at: [1000 * draw(), 1000 * draw()] });
    const off = normal() + normal();
    const scale: Scale = { kind: "lines", lines: [{ from: [0, 0], to: [100 + off, 0], lengthMm: 1 }] };
    const truth = 80;
    const density = measured({ ...EMPTY, scale, counted: ["hairs"], hairs }).density;
    if (density && density.low <= truth && density.high >= truth) held++;
  }
  expect(held / PICTURES).toBeGreaterThan(0.93);
  expect(held / PICTURES).toBeLessThan(0.985);
});

test("two people's marks of one picture: what both saw, and the classes they gave it", () => {
  const first: Marks = {
    ...EMPTY,
    scale: SCALE,
    hairs: [
      { at: [10, 10], class: "terminal" },
      { at: [100, 100], class: "terminal" },
      { at: [200, 200], class: "thin" },
      { at: [300, 300], class: "vellus" },
      { at: [400, 400] },
    ],
  };
  const second: Marks = {
    ...first,
    hairs: [
      { at: [13, 14], class: "terminal" },
      { at: [100, 110], class: "thin" },
      { at: [200, 211], class: "thin" },
      { at: [301, 300], class: "vellus" },
    ],
  };
  const found = agreement(first, second);
  expect(found.shared).toEqual([
    [3, 3],
    [0, 0],
    [1, 1],
  ]);
  expect([found.onlyFirst, found.onlySecond]).toEqual([2, 1]);
  // Twice three shared over nine marks.
  expect(found.agreement?.value).toBeCloseTo(6 / 9, 12);
  // Wilson limits of 3 in 6 are 0.1876 and 0.8124; 2p / (1 + p).
  expect(found.agreement?.low).toBeCloseTo((2 * 0.1876) / 1.1876, 3);
  expect(found.agreement?.high).toBeCloseTo((2 * 0.8124) / 1.8124, 3);
  // Terminal twice and vellus once against terminal, thin, vellus: observed 2/3, by chance 3/9.
  expect(found.classKappa).toBeCloseTo(0.5, 12);
  expect(agreement(EMPTY, EMPTY)).toEqual({ shared: [], onlyFirst: 0, onlySecond: 0 });
});

test.each([
  { second: 5, within: 5, pairs: [[1, 0]] },
  { second: 5, within: 4.99, pairs: [[1, 0]] },
  { second: 4, within: 5, pairs: [[1, 0]] },
  {
    second: 2,
    within: 5,
    pairs: [
      [0, 0],
      [1, 1],
    ],
  },
])("of two near points the nearest pair comes first, each point once: %o", (row) => {
  const first: Point[] = [
    [0, 0],
    [6, 0],
  ];
  const second: Point[] = [
    [row.second, 0],
    [11, 0],
  ];
  expect(pairs(first, second, row.within)).toEqual(row.pairs);
});
