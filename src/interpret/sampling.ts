/** Seeded draws over the uncertain frequencies and weights -> how often each disorder leads, and its mean share against the others. */
import { type Draws, seededDraws } from "../base/draws.js";
import type { Knowledge } from "../knowledge/schema.js";
import { entryWeight, type Weighed } from "./weigh.js";

export interface Standing {
  /** Share of draws in which the disorder has the highest score. */
  readonly leads: readonly number[];
  /** Mean over draws of its share of the total likelihood, 0-1. */
  readonly share: readonly number[];
}

export const DRAWS = 500;

/** Equal seeds give equal results on every machine. */
export function standing(weighed: Weighed, knowledge: Knowledge, seed: string, draws = DRAWS): Standing {
  const source = seededDraws(seed);
  const normal = normalDraws(source);
  const { disorders } = weighed.cells;
  const [low, high] = knowledge.weighing.frequency_limits;
  const pull = knowledge.weighing.pull_patients;
  const leads = disorders.map(() => 0);
  const share = disorders.map(() => 0);
  const varies = knowledge.weighing.draws;
  const at = new Map(disorders.map((id, d) => [id, d]));
  const uncertain = weighed.entries
    .filter((e) => e.factor > 0)
    .flatMap((e) =>
      disorders.flatMap((_, d) => {
        const cell = e.row.cells[d];
        if (!cell) return [];
        const strength = cell.a + cell.b;
        return [{ e, d, strength, beta: betaOf(cell.a, cell.b), pulled: pull * e.row.average }];
      }),
    );
  for (let draw = 0; draw < draws; draw++) {
    const scores = disorders.map((_, d) => (weighed.base[d] ?? 0) + varies.base * normal());
    // One draw per rule: a rule that moves several disorders moves them together.
    const drawnRules = new Map<string, number>();
    for (const line of weighed.lines) {
      const drawn = drawnRules.get(line.id) ?? 1 + varies.rule * normal();
      drawnRules.set(line.id, drawn);
      const d = at.get(line.disorder) ?? -1;
      scores[d] = (scores[d] ?? 0) + line.weight * drawn;
    }
    for (const { e, d, strength, beta, pulled } of uncertain) {
      const drawn = (drawFrom(beta, source, normal) * strength + pulled) / (strength + pull);
      const p = Math.min(high, Math.max(low, drawn));
      scores[d] = (scores[d] ?? 0) + entryWeight(e, p, knowledge);
    }
    const top = Math.max(...scores);
    const leader = scores.indexOf(top);
    leads[leader] = (leads[leader] ?? 0) + 1 / draws;
    const parts = shares(scores);
    for (let d = 0; d < parts.length; d++) share[d] = (share[d] ?? 0) + (parts[d] ?? 0) / draws;
  }
  return { leads, share };
}

/** Scores as shares of the whole: exp(score) over the sum of all. */
export function shares(scores: readonly number[]): number[] {
  const top = Math.max(...scores);
  const parts = scores.map((s) => Math.exp(s - top));
  const total = parts.reduce((sum, p) => sum + p, 0);
  return parts.map((p) => p / total);
}

/** A beta distribution with what drawing from it needs worked out once. */
interface Beta {
  readonly mean: number;
  readonly first: Gamma;
  readonly second: Gamma;
}

function betaOf(a: number, b: number): Beta {
  return { mean: a / (a + b), first: gammaOf(a), second: gammaOf(b) };
}

function drawFrom(beta: Beta, source: Draws, normal: () => number): number {
  const x = gammaDraw(beta.first, source, normal);
  const y = gammaDraw(beta.second, source, normal);
  return x + y > 0 ? x / (x + y) : beta.mean;
}

/** One draw from Beta(a, b), as a ratio of two gamma draws. */
export function betaDraw(a: number, b: number, source: Draws, normal: () => number): number {
  return drawFrom(betaOf(a, b), source, normal);
}

/** Standard normal draws in pairs (Box and Muller, Ann Math Stat 1958;29:610-611). */
export function normalDraws(source: Draws): () => number {
  let spare: number | undefined;
  return () => {
    if (spare !== undefined) {
      const ready = spare;
      spare = undefined;
      return ready;
    }
    const radius = Math.sqrt(-2 * Math.log(1 - source.uniform()));
    const angle = 2 * Math.PI * source.uniform();
    spare = radius * Math.sin(angle);
    return radius * Math.cos(angle);
  };
}

interface Gamma {
  /** 1 / shape for a shape below 1, which is drawn from the shape one higher; else 0. */
  readonly power: number;
  readonly d: number;
  readonly c: number;
}

function gammaOf(shape: number): Gamma {
  const d = (shape < 1 ? shape + 1 : shape) - 1 / 3;
  return { power: shape < 1 ? 1 / shape : 0, d, c: 1 / Math.sqrt(9 * d) };
}

/** Gamma draw of unit scale (Marsaglia and Tsang, ACM Trans Math Softw 2000;26:363-372), with their quick acceptance. */
function gammaDraw({ power, d, c }: Gamma, source: Draws, normal: () => number): number {
  const scale = power > 0 ? (1 - source.uniform()) ** power : 1;
  for (;;) {
    const x = normal();
    const root = 1 + c * x;
    if (root <= 0) continue;
    const v = root * root * root;
    const u = 1 - source.uniform();
    const square = x * x;
    if (u < 1 - 0.0331 * square * square || Math.log(u) < 0.5 * square + d - d * v + d * Math.log(v)) {
      return scale * d * v;
    }
  }
}
