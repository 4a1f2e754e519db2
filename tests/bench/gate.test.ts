/** The gate of the bench: shut by what has become slower beyond noise, and by what was left out. */
import { expect, test } from "vitest";
import { gateTable, gauged, isShut, judged, keptRatios, NOISE, type Run } from "./gate.js";

/** A run that takes each of these times in turn, and the last for ever after. */
function taking(...times: readonly number[]): { readonly run: Run; readonly runs: () => number } {
  let done = 0;
  const run = async () => times[Math.min(done++, times.length - 1)] ?? 0;
  return { run, runs: () => done };
}

test("of several runs the quickest stands, for the reference too", async () => {
  const unit = taking(12, 10, 14).run;
  expect(await gauged(new Map([["a", taking(30, 22, 25).run]]), unit, {})).toEqual({ a: 2.2 });
});

test("what seems slower is run again until it is not, or six times more", async () => {
  const noisy = taking(30, 30, 30, 30, 21);
  const slower = taking(23);
  const calm = taking(20);
  const runs = new Map([
    ["noisy", noisy.run],
    ["slower", slower.run],
    ["calm", calm.run],
  ]);
  const kept = { noisy: 2, slower: 2, calm: 2 };
  const found = await gauged(runs, taking(10).run, kept);
  expect(found).toEqual({ noisy: 2.1, slower: 2.3, calm: 2 });
  expect([noisy.runs(), slower.runs(), calm.runs()]).toEqual([5, 9, 3]);
  expect(judged(kept, found).map(({ says }) => says)).toEqual(["as before", "slower", "as before"]);
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
  expect(isShut([])).toBe(true);
  expect(gateTable(judged({ a: 2 }, { a: 3 }))).toContain("| a | 2 | 3 | slower |");
});

test("ratios are kept for everything that the gate measures", () => {
  expect(Object.keys(keptRatios()).sort()).toEqual([
    "batch of 24 visits, 1 worker, not proofed",
    "batch of 24 visits, 1 worker, proofed",
    "cold start of `check --no-trial`",
    "cold start of `check`",
    "cold start of `explain`",
    "cold start of `letter`, one document",
  ]);
});
