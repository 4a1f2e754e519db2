/** What was asked of the speed and memory of a run, held against what was measured. */
import type { BatchRun } from "./batches.js";
import type { ColdStart } from "./cold-starts.js";
import type { Standing } from "./contest.js";
import type { Goal } from "./table.js";

export interface Measured {
  readonly batches: readonly BatchRun[];
  readonly ours?: Standing | undefined;
  readonly floor?: Standing | undefined;
  readonly typesetter?: Standing | undefined;
  readonly browser?: Standing | undefined;
  /** Peak MB by number of visits. */
  readonly memory: ReadonlyMap<number, number>;
  readonly starts?: readonly ColdStart[];
}

interface Cost {
  readonly of: string;
  readonly ms: number | undefined;
  /** Processor time, which other work on the machine hardly changes. */
  readonly cpuMs: number | undefined;
}

function over(a: number | undefined, b: number | undefined): number | undefined {
  return a === undefined || b === undefined ? undefined : a / b;
}

/** The largest run with these settings. */
function largest(runs: readonly BatchRun[], workers: number, proof: boolean): BatchRun | undefined {
  const fitting = runs.filter((run) => run.workers === workers && run.proof === proof);
  return fitting.sort((a, b) => b.visits - a.visits)[0];
}

type Judged = Pick<Goal, "goal" | "isMet" | "why">;

/** Our costs against another's, by the clock and in processor time. */
function against(costs: readonly Cost[], other: Standing | undefined, name: string, judged: Judged): Goal[] {
  return costs.flatMap(({ of, ms, cpuMs }) => [
    { ...judged, of: `${of} : ${name}`, ratio: over(ms, other?.ms) },
    { ...judged, of: `${of} : ${name}, processor time`, ratio: over(cpuMs, other?.cpuMs) },
  ]);
}

export function goals({ batches, ours, floor, typesetter, browser, memory, starts }: Measured): Goal[] {
  const one = largest(batches, 1, false);
  const proofed = largest(batches, 1, true);
  const whole = (of: string, run: BatchRun | undefined, most: number): Goal[] =>
    against([{ of, ms: run && 1000 / run.whole, cpuMs: run?.wholeCpuMs }], floor, "tagged floor", {
      goal: `at most ${most} times the floor`,
      isMet: (ratio) => ratio <= most,
    });
  const start = (what: string, most: number): Goal => ({
    goal: `at most ${most} s`,
    of: `cold start of ${what}, processor time : 1 s`,
    ratio: over(starts?.find((s) => s.what === what)?.cpuMs, 1000),
    isMet: (ratio) => ratio <= most,
  });
  const costs: readonly Cost[] = [
    { of: "page room", ms: ours?.ms, cpuMs: ours?.cpuMs },
    {
      of: "`batch`, 1 worker, `--no-proof`, steady",
      ms: one && 1000 / one.steady,
      cpuMs: one?.cpuMs,
    },
  ];
  const speedUp = (proof: boolean): Goal => ({
    goal: "two workers at least 1.7 times one",
    of: `steady, ${proof ? "proofed" : "`--no-proof`"}`,
    ratio: over(largest(batches, 2, proof)?.steady, largest(batches, 1, proof)?.steady),
    isMet: (ratio) => ratio >= 1.7,
  });
  return [
    ...against(costs, floor, "tagged floor", {
      goal: "at most twice the floor",
      isMet: (ratio) => ratio <= 2,
    }),
    ...whole("`batch` whole, 1 worker, `--no-proof`", one, 2.2),
    ...whole("`batch` whole, 1 worker, proofed", proofed, 3.2),
    ...against(costs, typesetter, "Typst", {
      goal: "below the embedded typesetter",
      isMet: (ratio) => ratio < 1,
      ...(typesetter ? {} : { why: "no typesetter measured" }),
    }),
    ...costs.map(({ of, ms }) => ({
      goal: "at least 10 times Chromium",
      of: `Chromium kept warm : ${of}`,
      ratio: over(browser?.ms, ms),
      isMet: (ratio: number) => ratio >= 10,
      ...(browser ? {} : { why: "no browser measured" }),
    })),
    speedUp(true),
    speedUp(false),
    start("`explain`", 0.35),
    start("`check --no-trial`", 0.35),
    start("`letter`, one document", 0.6),
    {
      goal: "memory at 5,000 visits within 1.1 times that at 500",
      of: "peak of `batch`, 2 workers, `--no-proof`",
      ratio: over(memory.get(5000), memory.get(500)),
      isMet: (ratio) => ratio <= 1.1,
      why: "needs `--memory`",
    },
  ];
}
