/** Numbered marks in the pixels of a photo, and what the documents say of them. */
import jpeg from "jpeg-js";
import { expect, test } from "vitest";
import { drawMarks } from "../../src/page/drawing/photo-marks.js";
import { preparePhoto } from "../../src/page/photos.js";
import type { Marks, Point } from "../../src/picture/marks.js";
import { numbered } from "../../src/picture/numbered.js";

const SIDE = 400;
const plain = (value = 128) => new Uint8Array(SIDE * SIDE * 3).fill(value);

function drawn(marks: Parameters<typeof drawMarks>[1], factor = 1): Uint8Array {
  const data = plain();
  drawMarks({ data, width: SIDE, height: SIDE }, marks, factor);
  return data;
}

/** Places of changed pixels, with their grey. */
function changed(data: Uint8Array): { readonly at: Point; readonly grey: number }[] {
  const found: { at: Point; grey: number }[] = [];
  for (let i = 0; i < SIDE * SIDE; i++)
    if (data[3 * i] !== 128) found.push({ at: [i % SIDE, Math.floor(i / SIDE)], grey: data[3 * i] ?? 0 });
  return found;
}

const nearest = (data: Uint8Array, [x, y]: Point) =>
  Math.min(...changed(data).map(({ at }) => Math.hypot(at[0] - x, at[1] - y)));

test("a pointer stops beside what it points at, and never lies over another mark", () => {
  const points: Point[] = [
    [200, 200],
    [30, 30],
    [380, 390],
    [260, 150],
  ];
  const data = drawn({ pointers: points.map((at, i) => ({ at, number: i + 1 })), outlines: [] });
  for (const point of points) {
    expect(nearest(data, point)).toBeGreaterThan(2);
    expect(nearest(data, point)).toBeLessThan(12);
  }
});

test("an outline stands outside the margin that it shows", () => {
  const corners: Point[] = [
    [150, 150],
    [250, 150],
    [250, 250],
    [150, 250],
  ];
  const data = drawn({ pointers: [], outlines: [{ points: corners, number: 1 }] });
  const inside = changed(data).filter(({ at: [x, y] }) => x > 150 && x < 250 && y > 150 && y < 250);
  expect(inside).toEqual([]);
  expect(changed(data).length).toBeGreaterThan(500);
});

test("marks are dark with a light edge, so that they show on any ground", () => {
  const greys = changed(drawn({ pointers: [{ at: [200, 200], number: 8 }], outlines: [] })).map(
    ({ grey }) => grey,
  );
  expect(Math.min(...greys)).toBe(15);
  expect(Math.max(...greys)).toBe(255);
});

test("each number is another drawing, and a smaller copy is marked at the smaller place", () => {
  const figures = Array.from(
    { length: 12 },
    (_, number) => changed(drawn({ pointers: [{ at: [200, 200], number }], outlines: [] })).length,
  );
  expect(new Set(figures).size).toBeGreaterThan(9);
  const data = drawn({ pointers: [{ at: [200, 200], number: 1 }], outlines: [] }, 0.5);
  expect(nearest(data, [100, 100])).toBeLessThan(12);
});

test("marks are drawn where the upright picture has them, and none without marks", () => {
  const pixels = jpeg.encode(
    { width: SIDE, height: SIDE, data: Buffer.alloc(SIDE * SIDE * 4, 128) },
    95,
  ).data;
  const marks = { pointers: [{ at: [100, 300] as const, number: 1 }], outlines: [] };
  const greys = (bytes: Uint8Array) => jpeg.decode(bytes, { useTArray: true }).data;
  const bare = greys(preparePhoto(pixels).value?.bytes ?? new Uint8Array());
  const marked = greys(preparePhoto(pixels, undefined, marks).value?.bytes ?? new Uint8Array());
  const far = [...bare.keys()].filter((i) => i % 4 === 0 && Math.abs((bare[i] ?? 0) - (marked[i] ?? 0)) > 60);
  expect(far.length).toBeGreaterThan(100);
  for (const i of far) {
    const [x, y] = [(i / 4) % SIDE, Math.floor(i / 4 / SIDE)];
    expect(Math.hypot(x - 100, y - 300)).toBeLessThan(110);
  }
});

test("findings are numbered by their first arrow, patches after them", () => {
  const marks: Marks = {
    photo: { file: "a.jpg", sha256: "0".repeat(64), widthPx: 100, heightPx: 100 },
    area: { kind: "rectangle", from: [0, 0], to: [50, 50] },
    counted: ["hairs"],
    hairs: [{ at: [10, 10] }, { at: [60, 60] }],
    dots: [],
    widths: [],
    arrows: [
      { at: [1, 1], finding: "yellow-dots" },
      { at: [2, 2], finding: "black-dots" },
      { at: [3, 3], finding: "yellow-dots" },
    ],
    patches: [
      {
        outline: [
          [0, 0],
          [1, 0],
          [1, 1],
        ],
      },
    ],
  };
  expect(numbered(marks)).toEqual({
    legend: [
      { number: 1, finding: "yellow-dots" },
      { number: 2, finding: "black-dots" },
      { number: 3, finding: null },
    ],
    pointers: [
      { at: [1, 1], number: 1 },
      { at: [2, 2], number: 2 },
      { at: [3, 3], number: 1 },
    ],
    outlines: [
      {
        points: [
          [0, 0],
          [1, 0],
          [1, 1],
        ],
        number: 3,
      },
    ],
    area: { kind: "rectangle", from: [0, 0], to: [50, 50] },
    hairs: 1,
  });
  expect(numbered({ ...marks, counted: [] })).not.toHaveProperty("area");
});
