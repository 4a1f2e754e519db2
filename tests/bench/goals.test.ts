/** The tables of the bench: every number stands under its head, and every goal is judged the right way round. */
import { expect, test } from "vitest";
import type { BatchRun } from "./batches.js";
import type { Standing } from "./contest.js";
import { goals } from "./goals.js";
import { batchTable, goalTable, standingTable, table } from "./table.js";

function run(workers: number, steady: number, visits = 400): BatchRun {
  const setting = { source: "visits", visits, workers, proof: false };
  return { ...setting, documents: 800, whole: steady / 2, wholeCpuMs: 10.5, steady, cpuMs: 30, peakMb: 250 };
}

function standing(what: string, ms: number): Standing {
  return { what, ms, cpuMs: ms / 2, isElsewhere: what === "browser", pages: 3, words: 900, read: [] };
}

const MEASURED = {
  batches: [run(1, 40), run(2, 66), run(1, 4, 20)],
  ours: standing("ours", 18),
  floor: standing("floor", 10),
  typesetter: standing("typesetter", 20),
  browser: standing("browser", 200),
  memory: new Map([
    [500, 200],
    [5000, 250],
  ]),
  starts: [
    { what: "`explain`", ms: 700, cpuMs: 360, peakMb: 90 },
    { what: "`letter`, one document", ms: 900, cpuMs: 600, peakMb: 120 },
  ],
};

test("goals are judged by ratio", () => {
  const judged = goals(MEASURED).map(({ goal, of, ratio, isMet }) => [
    goal,
    of.split(",")[0]?.replace(/ : .*/u, ""),
    ratio?.toFixed(2),
    ratio !== undefined && isMet(ratio),
  ]);
  expect(judged).toContainEqual(["at most twice the floor", "page room", "1.80", true]);
  expect(judged).toContainEqual(["at most twice the floor", "`batch`", "2.50", false]);
  expect(judged).toContainEqual(["at most 2.2 times the floor", "`batch` whole", "5.00", false]);
  expect(judged).toContainEqual(["at most 2.2 times the floor", "`batch` whole", "2.10", true]);
  expect(judged).toContainEqual(["at most 0.35 s", "cold start of `explain`", "0.36", false]);
  expect(judged).toContainEqual(["at most 0.6 s", "cold start of `letter`", "0.60", true]);
  expect(judged).toContainEqual(["below the embedded typesetter", "page room", "0.90", true]);
  expect(judged).toContainEqual(["below the embedded typesetter", "`batch`", "1.25", false]);
  expect(judged).toContainEqual(["at least 10 times Chromium", "Chromium kept warm", "11.11", true]);
  expect(judged).toContainEqual(["at least 10 times Chromium", "Chromium kept warm", "8.00", false]);
  expect(judged).toContainEqual(["two workers at least 1.7 times one", "steady", "1.65", false]);
  expect(judged).toContainEqual([
    "memory at 5,000 visits within 1.1 times that at 500",
    "peak of `batch`",
    "1.25",
    false,
  ]);
});

test("what was not measured is neither met nor missed", () => {
  const rows = goalTable(goals({ batches: [], memory: new Map() }))
    .split("\n")
    .slice(2);
  expect(rows.length).toBeGreaterThan(8);
  for (const row of rows)
    expect(row).toMatch(/\| (?:not measured|needs `--memory`|no \w+ measured) \| {2}\|$/u);
});

test("tables are as wide as their heads, and leave out the processor time of other processes", () => {
  for (const text of [batchTable(MEASURED.batches), standingTable([MEASURED.ours, MEASURED.browser])]) {
    const widths = text.split("\n").map((line) => line.split("|").length);
    expect(new Set(widths).size).toBe(1);
  }
  expect(standingTable([MEASURED.browser])).toContain("| browser | 200 |  | 5 | 3 | 900 |");
  expect(() => table(["a", "b"], [[1]])).toThrow(RangeError);
});
