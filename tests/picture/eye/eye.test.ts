/** The helping eye on drawn pictures: what it must find, and what it must say of pictures on which it is poor. */
import { expect, test } from "vitest";
import { suggest } from "../../../src/picture/eye/suggest.js";
import { draw, PLAIN, type Scene, SIZE } from "./draw-hairs.js";
import { drawStrands, STRAND_SCENES } from "./draw-strands.js";
import { judge, spread } from "./judge.js";

/** A quarter of a picture, with a quarter of its hairs. */
function seen(scene: Partial<Scene>) {
  const size = { width: SIZE.width / 2, height: SIZE.height / 2 };
  const drawn = draw({ ...PLAIN, hairs: 20, ...scene }, "test", size);
  const found = suggest(drawn.picture);
  return { picture: drawn.picture, found, judged: judge(drawn.hairs, found.hairs) };
}
const plain = seen({});

const warned = (scene: Partial<Scene>) => seen(scene).found.warnings;

test("of dark hairs most are found, few invented, and their widths are right", () => {
  const { judged, found } = plain;
  expect(judged.found / judged.drawn).toBeGreaterThan(0.78);
  expect(judged.invented / judged.suggested).toBeLessThan(0.2);
  expect(Math.abs(spread(judged.widths).mean - 1)).toBeLessThan(0.08);
  expect(found).toMatchObject({ lighter: false, glare: 0, warnings: [] });
  expect(found.blurPx).toBeLessThan(1.6);
});

test("light hairs on dark skin are found as light ones", () => {
  const { found, judged } = seen({ skin: [92, 64, 50], hair: [190, 164, 128] });
  expect(found.lighter).toBe(true);
  expect(judged.found / judged.drawn).toBeGreaterThan(0.75);
});

test("tapering hairs are told to leave the skin at their wider end, black ones on dark skin too", () => {
  const scene = STRAND_SCENES.find(({ name }) => name === "dark skin, black hair");
  if (!scene) throw new Error("no such scene");
  const drawn = drawStrands(scene, "test");
  const judged = judge(drawn.hairs, suggest(drawn.picture).hairs);
  expect(judged.rooted / judged.found).toBeGreaterThan(0.7);
});

test("skin without hairs suggests next to nothing", () => {
  expect(seen({ hairs: 0 }).found.hairs.length).toBeLessThan(4);
});

test("a picture on which the eye is poor is told to be such", () => {
  expect(warned({ glare: 0.03 })).toContain("glare");
  expect(warned({ blur: 4 })).toContain("blur");
  expect(warned({ hair: [188, 172, 160] })).toContain("faint");
  expect(warned({ fan: 3.1, length: [260, 400] })).toContain("crossing");
});

test("what lies outside the area is not suggested, and one picture gives one answer", () => {
  const area = { kind: "rectangle", from: [0, 0], to: [400, 625] } as const;
  const inside = suggest(plain.picture, area).hairs;
  expect(inside).toEqual(plain.found.hairs.filter(({ at: [x, y] }) => x < 400 && y < 625));
  expect(inside.length).toBeGreaterThan(3);
});
