import * as R from "lib-r-math.js";
import { describe, expect, it } from "vitest";
import { seededDraws } from "../../src/base/draws.js";
import { information } from "../../src/interpret/look-next.js";
import { betaDraw, normalDraws, shares } from "../../src/interpret/sampling.js";

describe("draws", () => {
  it.each([
    [0.4, 3],
    [2, 2],
    [18, 4],
  ])("from Beta(%d, %d) have its mean and its quantiles", (a, b) => {
    const source = seededDraws(`${a}/${b}`);
    const normal = normalDraws(source);
    const drawn = Array.from({ length: 8000 }, () => betaDraw(a, b, source, normal)).sort((x, y) => x - y);
    expect(drawn.reduce((x, y) => x + y, 0) / drawn.length).toBeCloseTo(a / (a + b), 1);
    for (const q of [0.1, 0.5, 0.9]) {
      expect(Math.abs((drawn[Math.floor(q * drawn.length)] ?? 0) - Number(R.qbeta(q, a, b)))).toBeLessThan(
        0.02,
      );
    }
  });

  it("are the same for the same seed and differ for another", () => {
    const first = (seed: string) => {
      const source = seededDraws(seed);
      return betaDraw(2, 5, source, normalDraws(source));
    };
    expect(first("TS-1")).toBe(first("TS-1"));
    expect(first("TS-1")).not.toBe(first("TS-2"));
  });

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
