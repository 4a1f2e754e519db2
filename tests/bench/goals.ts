/** What was asked of the speed and memory of a run, held against what was measured. */
import type { BatchRun } from "./batches.js";
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
}

interface Cost {
  readonly of: string;
  readonly ms: number | undefined;
}

function over(a: number | undefined, b: number | undefined): number | undefined {
  return a === undefined || b === undefined ? undefined : a / b;
}

/** The steady rate of the largest run with these settings. */
function steady(runs: readonly BatchRun[], workers: number, proof: boolean): number | undefined {
  const fitting = runs.filter((run) => run.workers === workers && run.proof === proof);
  return fitting.sort((a, b) => b.visits - a.visits)[0]?.steady;
}

const NO_TYPESETTER = "not measured: no typesetter is installed";
const NO_BROWSER = "not measured: no browser is installed";

export function goals({ batches, ours, floor, typesetter, browser, memory }: Measured): Goal[] {
  const one = steady(batches, 1, false);
  const costs: readonly Cost[] = [
    { of: "the page room alone", ms: ours?.ms },
    { of: "`batch`, 1 worker, `--no-proof`, steady", ms: one && 1000 / one },
  ];
  const ratios = (
    goal: string,
    against: number | undefined,
    words: string,
    isMet: Goal["isMet"],
    why?: string,
  ): Goal[] =>
    costs.map(({ of, ms }) => ({
      goal,
      of: `${of} : ${words}`,
      ratio: over(ms, against),
      isMet,
      ...(why && against === undefined ? { why } : {}),
    }));
  const speedUp = (proof: boolean): Goal => ({
    goal: "two workers at least 1.7 times one",
    of: `steady, ${proof ? "proofed" : "`--no-proof`"}`,
    ratio: over(steady(batches, 2, proof), steady(batches, 1, proof)),
    isMet: (ratio) => ratio >= 1.7,
  });
  return [
    ...ratios("at most twice the floor", floor?.ms, "the tagged floor", (ratio) => ratio <= 2),
    {
      goal: "at most twice the floor",
      of: "the page room alone : the tagged floor, in processor time",
      ratio: over(ours?.cpuMs, floor?.cpuMs),
      isMet: (ratio) => ratio <= 2,
    },
    ...ratios("below the embedded typesetter", typesetter?.ms, "Typst", (ratio) => ratio < 1, NO_TYPESETTER),
    ...costs.map(({ of, ms }) => ({
      goal: "at least 10 times Chromium",
      of: `Chromium kept warm : ${of}`,
      ratio: over(browser?.ms, ms),
      isMet: (ratio: number) => ratio >= 10,
      ...(browser ? {} : { why: NO_BROWSER }),
    })),
    speedUp(true),
    speedUp(false),
    {
      goal: "memory at 5,000 visits within 1.2 times that at 500",
      of: "peak of `batch`, 2 workers, `--no-proof`",
      ratio: over(memory.get(5000), memory.get(500)),
      isMet: (ratio) => ratio <= 1.2,
      why: "not measured: needs `--memory`",
    },
  ];
}
