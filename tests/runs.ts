/** How many made-up cases a test tries: a sixth of the full count, or as `WHORL_RUNS=1` (all) or `WHORL_RUNS=5` (five times all) say. */
const SHARE = Number(process.env.WHORL_RUNS ?? 1 / 6);

export function runs(full: number): number {
  return Math.max(5, Math.ceil(full * SHARE));
}
