/** A linear support vector machine over words: squared hinge, dual coordinate descent (Hsieh 2008). */
import { seededDraws } from "../../../src/base/draws.js";

export interface Row {
  readonly features: readonly string[];
  readonly told: boolean;
  /** How much more than another it costs to have this one on the wrong side. */
  readonly cost: number;
}

const ROUNDS = 20;

/** Weights of the features met in `often` rows or more, and what a row of none of them weighs; above nought is told. */
export function learnLinear(
  used: readonly Row[],
  { cost, often, seed }: { readonly cost: number; readonly often: number; readonly seed: string },
): { readonly base: number; readonly weights: ReadonlyMap<string, number> } {
  const met = new Map<string, number>();
  for (const { features } of used) for (const f of features) met.set(f, (met.get(f) ?? 0) + 1);
  const places = new Map([...met].filter(([, n]) => n >= often).map(([f], i) => [f, i + 1] as const));
  const rows = used.map(({ features, told, cost: own }) => {
    const columns = [0, ...features.flatMap((f) => places.get(f) ?? [])];
    const soft = 1 / (2 * cost * own);
    return { columns, sign: told ? 1 : -1, soft, size: columns.length + soft, alpha: 0 };
  });
  const weights = new Float64Array(places.size + 1);
  const draws = seededDraws(seed);
  const order = rows.map((_, i) => i);
  for (let round = 0; round < ROUNDS; round++) {
    for (let i = order.length - 1; i > 0; i--) {
      const j = Math.floor(draws.uniform() * (i + 1));
      [order[i], order[j]] = [order[j] ?? 0, order[i] ?? 0];
    }
    for (const at of order) {
      const row = rows[at];
      if (!row) continue;
      let sum = 0;
      for (const c of row.columns) sum += weights[c] ?? 0;
      const gradient = row.sign * sum - 1 + row.alpha * row.soft;
      const alpha = Math.max(0, row.alpha - gradient / row.size);
      const step = (alpha - row.alpha) * row.sign;
      if (step === 0) continue;
      row.alpha = alpha;
      for (const c of row.columns) weights[c] = (weights[c] ?? 0) + step;
    }
  }
  return {
    base: weights[0] ?? 0,
    weights: new Map([...places].map(([f, i]) => [f, weights[i] ?? 0] as const)),
  };
}
