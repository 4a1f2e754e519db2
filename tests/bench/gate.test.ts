/** The gate of the bench: shut by what has become slower beyond noise, and by what was left out. */
import { expect, test } from "vitest";
import { among, gateTable, isShut, judged, keptRatios, NOISE, ratiosOf } from "./gate.js";

const GAUGED = {
  ours: { cpuMs: 22 },
  floor: { cpuMs: 10 },
  batches: [
    { workers: 1, proof: false, wholeCpuMs: 40 },
    { workers: 1, proof: true, wholeCpuMs: undefined },
  ],
  starts: [{ what: "`explain`", ms: 900, cpuMs: 450, peakMb: 90 }],
};

test("everything is told in floors, and what was not measured is left out", () => {
  expect(ratiosOf(GAUGED)).toEqual({
    "page room": 2.2,
    "batch whole, 1 worker, not proofed": 4,
    "cold start of `explain`": 45,
  });
  expect(ratiosOf({ ...GAUGED, floor: undefined })).toEqual({});
});

test("noise neither opens nor shuts it", () => {
  const at = (found: number) => judged({ a: 2 }, { a: found })[0]?.says;
  expect(at(2 * (1 + NOISE))).toBe("as before");
  expect(at(2 * (1 + NOISE) + 0.01)).toBe("slower");
  expect(at(2 * (1 - NOISE))).toBe("as before");
  expect(at(2 * (1 - NOISE) - 0.01)).toBe("quicker: keep the new figure");
});

test("it is shut by what is slower or missing, not by what is new", () => {
  expect(isShut(judged({ a: 2 }, { a: 2.1 }))).toBe(false);
  expect(isShut(judged({ a: 2 }, { a: 2.1, b: 3 }))).toBe(false);
  expect(isShut(judged({ a: 2 }, { a: 3 }))).toBe(true);
  expect(isShut(judged({ a: 2 }, {}))).toBe(true);
  expect(isShut(judged(among({ a: 2, b: 3 }, { a: 2.1 }), { a: 2.1 }))).toBe(false);
  expect(gateTable(judged({ a: 2 }, { a: 3 }))).toContain("| a | 2 | 3 | slower |");
});

test("ratios are kept for everything that the gate measures", () => {
  expect(Object.keys(keptRatios()).sort()).toEqual([
    "batch whole, 1 worker, not proofed",
    "batch whole, 1 worker, proofed",
    "cold start of `check --no-trial`",
    "cold start of `check`",
    "cold start of `explain`",
    "cold start of `letter`, one document",
    "page room",
  ]);
});
