/** Inks hold their contrast, in colour and in grey. */
import { expect, test } from "vitest";
import { contrast, PALETTE, TEXT_PAIRS } from "../../src/page/type/palette.js";
import { SCALES, TIGHTER, tightened } from "../../src/page/type/scale.js";

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

test("however close a letter is set, its text and tables keep a size that reads well, and its lines stand apart", () => {
  const least = { compact: [9.5, 9], reading: [12, 12], large: [18, 18] } as const;
  for (const [type, [text, table]] of Object.entries(least)) {
    for (const degree of TIGHTER) {
      const scale = tightened(SCALES[type as keyof typeof SCALES], degree);
      expect(scale.body.size, `${type} ${degree}`).toBeGreaterThanOrEqual(text);
      expect(scale.table.size, `${type} ${degree}`).toBeGreaterThanOrEqual(table);
      for (const { size, leading } of [scale.body, scale.table])
        expect(leading / size, `${type} ${degree}`).toBeGreaterThan(1.19);
    }
  }
  expect(tightened(SCALES.compact, 4.3).body.size).toBe(9.5);
});
