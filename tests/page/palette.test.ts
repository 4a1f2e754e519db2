/** Inks hold their contrast, in colour and in grey. */
import { expect, test } from "vitest";
import { contrast, PALETTE, TEXT_PAIRS } from "../../src/page/type/palette.js";
import { SCALES } from "../../src/page/type/scale.js";

test("the contrast formula gives the values of its standard", () => {
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 5);
  expect(contrast("#777777", "#ffffff")).toBeCloseTo(4.48, 2);
  expect(contrast("#ffffff", "#ffffff")).toBe(1);
});

test.each(TEXT_PAIRS)("text %s on %s has at least 4.5:1", (ink, ground) => {
  expect(contrast(ink, ground)).toBeGreaterThanOrEqual(4.5);
});

test("every text ink is tested on every ground", () => {
  const inks = [PALETTE.ink, PALETTE.quiet, PALETTE.accent];
  const grounds = [PALETTE.paper, PALETTE.tint, PALETTE.draft];
  expect(TEXT_PAIRS).toHaveLength(inks.length * grounds.length);
});

test("the draft mark is lighter than any text, yet can be seen in grey", () => {
  expect(contrast(PALETTE.draft, PALETTE.paper)).toBeGreaterThan(1.15);
  expect(contrast(PALETTE.draft, PALETTE.paper)).toBeLessThan(1.6);
});

test("sizes keep their order in each setting", () => {
  for (const scale of Object.values(SCALES)) {
    expect(scale.h1.size).toBeGreaterThan(scale.h2.size);
    expect(scale.h2.size).toBeGreaterThan(scale.h3.size);
    expect(scale.h3.size).toBeGreaterThanOrEqual(scale.body.size);
    for (const style of [scale.body, scale.table, scale.small, scale.foot]) {
      expect(style.leading / style.size).toBeGreaterThanOrEqual(1.25);
    }
  }
  expect(SCALES.reading.body.size).toBeGreaterThanOrEqual(12);
  expect(SCALES.large.body.size).toBeGreaterThanOrEqual(18);
});
