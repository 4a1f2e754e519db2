/** Learns how a passage speaks that tells of a danger, and how one that only names it: one weight for each word and each two in a row. */
import type { Knowledge } from "../../../src/knowledge/schema.js";
import type { Told } from "../../../src/knowledge/told-schema.js";
import { countsHours, type Urgency } from "../../../src/knowledge/urgency.js";
import { turnsOf } from "../../../src/visit/prose/manner.js";
import { sentences } from "../../../src/visit/prose/tokens.js";
import { learnLinear } from "./linear.js";
import type { Line } from "./lines.js";

const COST = 0.03;
const OFTEN = 5;
/** A word weighs from here on; less is noise. */
const LEAST = 0.05;
/** Of the lines that the lists read rightly, those that may sound harmless. */
const MAY_MISS = { urgent: 0.004, other: 0.015 };

interface Passage {
  readonly line: Line;
  readonly features: readonly string[];
}

function learned(some: readonly Passage[]) {
  const told = some.filter((p) => p.line.told).length;
  const { base, weights } = learnLinear(
    some.map(({ line, features }) => ({
      features,
      told: line.told,
      cost: line.told ? 1 : told / (some.length - told),
    })),
    { cost: COST, often: OFTEN, seed: "manner" },
  );
  const kept = [...weights].flatMap(([turn, weight]) => {
    const rounded = Math.round(weight * 100) / 100;
    return Math.abs(rounded) < LEAST ? [] : [[turn, rounded] as const];
  });
  return { base: Math.round(base * 100) / 100, weights: new Map(kept) };
}

const weigh = ({ features }: Passage, { base, weights }: ReturnType<typeof learned>) =>
  features.reduce((sum, f) => sum + (weights.get(f) ?? 0), base);

/** What is learned, and what it does to the lines of writers left out. */
export function learnManner(
  lines: readonly Line[],
  writers: readonly string[],
  knowledge: Knowledge,
): {
  manner: NonNullable<Told["manner"]>;
  figures: Record<string, Record<string, number>>;
  /** Whether a line sounds harmless by what was learned without its writer. */
  isHarmless: (line: Line, urgency: Urgency | undefined) => boolean;
} {
  const all = lines.map((line): Passage => ({ line, features: [...turnsOf(sentences(line.text))] }));
  const ordinary = all.filter((p) => p.line.fact === undefined);
  const foldOf = new Map(ordinary.map((p, i) => [p, i % writers.length] as const));
  const scores = new Map<Passage, number>();
  writers.forEach((writer, n) => {
    const isOut = (p: Passage) =>
      p.line.fact === undefined ? foldOf.get(p) === n : p.line.writer === writer;
    const model = learned(all.filter((p) => !isOut(p)));
    for (const p of all) if (isOut(p)) scores.set(p, weigh(p, model));
  });
  const of = (some: readonly Passage[]) => some.map((p) => scores.get(p) ?? 0);
  const isUrgent = (p: Passage) => countsHours(knowledge.facts[p.line.fact ?? ""]?.urgency);
  const isListed = ({ line }: Passage) =>
    line.fact === undefined
      ? [...line.listed].some((id) => knowledge.facts[id]?.kind === "red flag")
      : line.listed.has(line.fact);
  const told = all.filter((p) => p.line.told && isListed(p));
  const limit = (some: readonly Passage[], share: number) => {
    const sorted = of(some).toSorted((a, b) => a - b);
    return Math.round((sorted[Math.floor(sorted.length * share)] ?? Number.NEGATIVE_INFINITY) * 100) / 100;
  };
  const urgent = limit(told.filter(isUrgent), MAY_MISS.urgent);
  const other = limit(
    told.filter((p) => !isUrgent(p)),
    MAY_MISS.other,
  );
  const { base, weights } = learned(all);
  const isBelow = (score: number, hours: boolean) => score < (hours ? urgent : other);
  const share = (some: readonly Passage[]) => {
    const harmless = some.filter((p) => isBelow(scores.get(p) ?? 0, isUrgent(p))).length;
    return { listed: some.length, harmless: Math.round((1000 * harmless) / some.length) / 10 };
  };
  const byLine = new Map([...scores].map(([p, score]) => [p.line, score] as const));
  return {
    isHarmless: (line, urgency) => isBelow(byLine.get(line) ?? 0, countsHours(urgency)),
    manner: { base, urgent, other, words: byWeight(weights, 2) },
    figures: {
      told: share(told),
      near: share(all.filter((p) => p.line.fact !== undefined && !p.line.told && isListed(p))),
      ordinary: share(ordinary.filter(isListed)),
    },
  };
}

/** Weight -> its words, the heaviest first. */
export function byWeight(weights: ReadonlyMap<string, number>, digits = 1): Record<string, string> {
  const groups = new Map<string, string[]>();
  for (const [word, weight] of weights) {
    const key = weight.toFixed(digits);
    groups.set(key, [...(groups.get(key) ?? []), word]);
  }
  return Object.fromEntries(
    [...groups]
      .toSorted(([a], [b]) => Number(b) - Number(a))
      .map(([key, words]) => [key, words.sort().join(" ")]),
  );
}
