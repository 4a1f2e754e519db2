import jstat from "jstat";
import * as R from "lib-r-math.js";
import { describe, expect, it } from "vitest";
import { information } from "../../src/interpret/look-next.js";
import { betaQuantiles, normalQuantiles } from "../../src/interpret/quantiles.js";
import { shares } from "../../src/interpret/sampling.js";

describe("quantiles", () => {
  it.each([
    [0.4, 3],
    [2, 2],
    [18, 4],
    [30, 0.3],
    [18, 20],
  ])("of Beta(%d, %d) are those of a general statistics package", (a, b) => {
    const quantiles = betaQuantiles(a, b, 500);
    const away = quantiles.map((q, i) => Math.abs(q - Number(R.qbeta((i + 0.5) / 500, a, b))));
    expect(Math.max(...away)).toBeLessThan(5e-4);
  });
  it("of a very small share are those of another package", () => {
    const quantiles = betaQuantiles(0.05, 9.95, 500);
    const away = quantiles.map((q, i) => Math.abs(q - jstat.jStat.beta.inv((i + 0.5) / 500, 0.05, 9.95)));
    expect(Math.max(...away)).toBeLessThan(5e-4);
  });

  it("of the normal distribution are even about 0 and have its spread", () => {
    const quantiles = normalQuantiles(500);
    expect(quantiles[249]).toBeCloseTo(-(quantiles[250] ?? 0), 12);
    expect(quantiles[12]).toBeCloseTo(-1.959964, 6);
  });
});

describe("draws", () => {
  it("turn scores into shares without overflow", () => {
    const parts = shares([900, 899, -900]);
    expect(parts.reduce((x, y) => x + y, 0)).toBeCloseTo(1, 12);
    expect(parts[0]).toBeCloseTo(Math.E / (Math.E + 1), 12);
  });
});

describe("expected information", () => {
  it("is one bit where a sign tells two even candidates apart, and none where it cannot", () => {
    const told = [
      [1, 0],
      [0, 1],
    ];
    expect(information([0.5, 0.5], told)).toBeCloseTo(1, 12);
    const mute = [
      [0.3, 0.3],
      [0.7, 0.7],
    ];
    expect(information([0.5, 0.5], mute)).toBeCloseTo(0, 12);
    expect(information([1, 0], told)).toBeCloseTo(0, 12);
  });
});
