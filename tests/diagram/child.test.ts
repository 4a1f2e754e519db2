/** The head of a child: smaller round, shorter of face, patches to its scale. */
import { describe, expect, it } from "vitest";
import { ENGLISH_MAP_WORDS, scalpMap } from "../../src/diagram/diagram.js";
import { headAt, headSize } from "../../src/diagram/head/age.js";
import { HEAD } from "../../src/diagram/head/head.js";
import { readSvg } from "./read-svg.js";
import { site } from "./site.js";

const patch = { lengthMm: 40, widthMm: 20 };
const map = (ageYears?: number) =>
  scalpMap({
    sites: [site("vertex", patch)],
    words: ENGLISH_MAP_WORDS,
    ...(ageYears === undefined ? {} : { ageYears }),
  });
const patchWidth = (svg: string) =>
  2 * Number(readSvg(svg).find(({ name }) => name === "ellipse")?.attributes.rx);
const barWidth = (svg: string) => Number(/M[\d.]+ [\d.]+v4\.8M[\d.]+ [\d.]+h([\d.]+)M/u.exec(svg)?.[1]);

describe("the size of a head", () => {
  it.each([
    [0, 34.6],
    [0.25, (34.6 + 43.1) / 2],
    [1, 46.3],
    [3, 49.9],
    [5.5, 50.7],
    [12, 53.2],
    [15, 54.7],
    [17.999, 56.2],
    [18, 56.2],
    [90, 56.2],
  ])("at %s years is %s cm of 56.2", (years, cm) => {
    expect(headSize(years) * 56.2).toBeCloseTo(cm, 2);
  });
});

describe("a child's head", () => {
  it("has a face that grows to the grown one, under brows that stay", () => {
    const chin = (years: number) => headAt("front", years).frame[1] + headAt("front", years).frame[3];
    const grown = HEAD.front.frame[1] + HEAD.front.frame[3];
    expect(chin(0)).toBeCloseTo(98 + 0.74 * (grown - 98), 9);
    expect(chin(9)).toBeCloseTo(98 + 0.87 * (grown - 98), 9);
    expect(headAt("front", 18)).toBe(HEAD.front);
    expect(headAt("above", 1)).toBe(HEAD.above);
    // The top of the head lies above the brows and is not moved.
    expect(headAt("left", 2).outline[0]?.[0]?.[0]).toEqual(HEAD.left.outline[0]?.[0]?.[0]);
  });

  it("takes a patch larger by as much as it is smaller, and so does its bar", () => {
    const [child, grown] = [map(1).svg, map().svg];
    expect(patchWidth(child) / patchWidth(grown)).toBeCloseTo(56.2 / 46.3, 2);
    expect(barWidth(child) / barWidth(grown)).toBeCloseTo(56.2 / 46.3, 2);
    expect(patchWidth(child) / barWidth(child)).toBeCloseTo(40 / 50, 2);
  });

  it("says whose head it is", () => {
    expect(map(17).alt).toContain(ENGLISH_MAP_WORDS.childNote);
    expect(map(18).alt).not.toContain(ENGLISH_MAP_WORDS.childNote);
    expect(map(17).alt).not.toContain("adult");
    expect(map(18).alt).toContain("adult");
  });
});
