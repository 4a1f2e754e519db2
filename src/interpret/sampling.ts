/** Kept draws of the uncertain frequencies and weights -> how often each disorder leads, and its mean share against the others. */
import type { Knowledge } from "../knowledge/schema.js";
import { DRAWS, normalsNamed, weightDraws } from "./draw-cache.js";
import type { Weighed } from "./weigh.js";

export interface Ranking {
  /** Share of draws in which the disorder has the highest score. */
  readonly leads: readonly number[];
  /** Mean over draws of its share of the total likelihood, 0-1. */
  readonly share: readonly number[];
}

/** Equal pictures give equal results on every machine, in any order of visits. */
export function rankingOf(weighed: Weighed, knowledge: Knowledge): Ranking {
  const scores = drawnScores(weighed, knowledge);
  const all = scores.length;
  const leads = new Float64Array(all);
  const share = new Float64Array(all);
  const parts = new Float64Array(all);
  for (let i = 0; i < DRAWS; i++) {
    for (let d = 0; d < all; d++) parts[d] = (scores[d] as Float64Array)[i] as number;
    const leader = toShares(parts);
    leads[leader] = (leads[leader] as number) + 1 / DRAWS;
    for (let d = 0; d < all; d++) share[d] = (share[d] as number) + (parts[d] as number) / DRAWS;
  }
  return { leads: [...leads], share: [...share] };
}

/** Per disorder, its score in each draw: what its weights sum to when each is as far off as the draw has it. */
function drawnScores(weighed: Weighed, knowledge: Knowledge): Float64Array[] {
  const { draws: varies } = knowledge.weighing;
  const scores = weighed.cells.disorders.map((id, d) => {
    // Lessons are no frequency that could be drawn: they add the same to every draw.
    const lessons = weighed.entries.reduce((sum, e) => sum + e.factor * (e.row.lessons[d] ?? 0), 0);
    const score = new Float64Array(DRAWS).fill((weighed.base[d] ?? 0) + (weighed.ruled[d] ?? 0) + lessons);
    addTimes(score, varies.base, normalsNamed(`base of ${id}`));
    // One draw per rule: a rule that moves several disorders moves them together.
    for (const line of weighed.lines) {
      if (line.disorder === id) addTimes(score, line.weight * varies.rule, normalsNamed(`rule ${line.id}`));
    }
    return score;
  });
  for (const { factor, row } of weighed.entries) {
    if (factor <= 0) continue;
    const drawn = weightDraws(row, knowledge);
    scores.forEach((score, d) => {
      const draws = drawn[d];
      if (draws) addTimes(score, factor, draws);
    });
  }
  return scores;
}

function addTimes(to: Float64Array, factor: number, draws: Float32Array): void {
  for (let i = 0; i < DRAWS; i++) to[i] = (to[i] as number) + factor * (draws[i] as number);
}

/** Scores as shares of the whole: exp(score) over the sum of all. */
export function shares(scores: readonly number[]): number[] {
  const parts = Float64Array.from(scores);
  toShares(parts);
  return [...parts];
}

/** Turns scores into shares where they stand; returns the number of the highest, the first of equals. */
function toShares(scores: Float64Array): number {
  const all = scores.length;
  let top = 0;
  let most = scores[0] ?? 0;
  for (let d = 1; d < all; d++) {
    const score = scores[d] as number;
    if (score <= most) continue;
    top = d;
    most = score;
  }
  let total = 0;
  for (let d = 0; d < all; d++) {
    const part = Math.exp((scores[d] as number) - most);
    scores[d] = part;
    total += part;
  }
  for (let d = 0; d < all; d++) scores[d] = (scores[d] as number) / total;
  return top;
}
