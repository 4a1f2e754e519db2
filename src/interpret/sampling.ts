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
  const leads = scores.map(() => 0);
  const share = scores.map(() => 0);
  const parts = new Float64Array(scores.length);
  for (let i = 0; i < DRAWS; i++) {
    for (let d = 0; d < parts.length; d++) parts[d] = scores[d]?.[i] ?? 0;
    const leader = toShares(parts);
    leads[leader] = (leads[leader] ?? 0) + 1 / DRAWS;
    for (let d = 0; d < parts.length; d++) share[d] = (share[d] ?? 0) + (parts[d] ?? 0) / DRAWS;
  }
  return { leads, share };
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
  for (let i = 0; i < to.length; i++) to[i] = (to[i] ?? 0) + factor * (draws[i] ?? 0);
}

/** Scores as shares of the whole: exp(score) over the sum of all. */
export function shares(scores: readonly number[]): number[] {
  const parts = Float64Array.from(scores);
  toShares(parts);
  return [...parts];
}

/** Turns scores into shares where they stand; returns the number of the highest, the first of equals. */
function toShares(scores: Float64Array): number {
  let top = 0;
  for (let d = 1; d < scores.length; d++) if ((scores[d] ?? 0) > (scores[top] ?? 0)) top = d;
  const most = scores[top] ?? 0;
  let total = 0;
  for (let d = 0; d < scores.length; d++) {
    const part = Math.exp((scores[d] ?? 0) - most);
    scores[d] = part;
    total += part;
  }
  for (let d = 0; d < scores.length; d++) scores[d] = (scores[d] ?? 0) / total;
  return top;
}
