/** How many made-up cases a test tries: a sixth of the full count, or as `WHORL_RUNS=1` (all) or `WHORL_RUNS=5` (five times all) say. */
const SHARE = Number(process.env.WHORL_RUNS ?? 1 / 6);

export function runs(full: number): number {
  return Math.max(5, Math.ceil(full * SHARE));
}

/** Of a list an even share as large as `runs` says, the first among them. */
export function some<T>(all: readonly T[]): readonly T[] {
  const wanted = runs(all.length);
  return all.filter(
    (_, i) => Math.floor((i * wanted) / all.length) !== Math.floor(((i - 1) * wanted) / all.length),
  );
}
