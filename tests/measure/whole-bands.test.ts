/** Classes published in whole percents, and the stated rule for values between them. */
import { describe, expect, test } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { bandOf, type WholeBands, wholePercent } from "../../src/measure/whole-bands.js";

const salt = loadKnowledge().scores["salt-score"] as unknown as { aa_iga: WholeBands; s_class: WholeBands };

describe("classes of scalp loss (AA-IGA: Wyrwich et al., Br J Dermatol 2020;183:702-709)", () => {
  test.each([
    [0, "none"],
    [20, "limited"],
    [21, "moderate"],
    [49, "moderate"],
    [50, "severe"],
    [66.5, "severe"],
    [94, "severe"],
    [95, "very severe"],
    [100, "very severe"],
  ])("%d percent is %s", (value, band) => {
    expect(bandOf(value, salt.aa_iga)).toBe(band);
  });

  test.each([
    [0, "S0"],
    [24, "S1"],
    [25, "S2"],
    [66.5, "S3"],
    [75, "S4"],
    [100, "S5"],
  ])("%d percent is %s by the older classes", (value, band) => {
    expect(bandOf(value, salt.s_class)).toBe(band);
  });
});

test("between whole numbers: nearest, halves up, never none for some nor all for nearly all", () => {
  const rounded: [number, number][] = [
    [0.01, 1],
    [0.6, 1],
    [20.49, 20],
    [20.5, 21],
    [94.5, 95],
    [99.99, 99],
    [100, 100],
  ];
  for (const [value, whole] of rounded) expect(wholePercent(value), `${value}`).toBe(whole);
});

test("every whole percent has one class under each scheme", () => {
  for (const bands of [salt.aa_iga, salt.s_class]) {
    for (let value = 0; value <= 100; value++) {
      expect(bands.filter((b) => value >= b.from && value <= b.to)).toHaveLength(1);
    }
  }
});

test("every file that weighs the four areas weighs them alike, and the weights sum to one", () => {
  const { scores } = loadKnowledge();
  const weights = ["salt-score", "areata-scale", "extent-from-patches"].map(
    (id) => (scores[id] as unknown as { weights: Record<string, number> }).weights,
  );
  for (const w of weights) expect(w).toEqual(weights[0]);
  expect(Object.values(weights[0] ?? {}).reduce((a, b) => a + b, 0)).toBeCloseTo(1, 12);
});
