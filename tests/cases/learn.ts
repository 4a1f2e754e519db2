/**
 * Cases -> lessons: what they add to the weight of each finding and fact in each disorder beyond what studies and rules say.
 *
 * The score of a disorder is what the engine makes it, plus factor x lesson over the entries; its chance is its share of exp(score).
 * Lessons are those of the greatest likelihood of the confirmed disorders, each held towards nothing by a normal penalty (ridge
 * regression round given weights: le Cessie & van Houwelingen, Appl Stat 1992;41:191-201). So a sign met in few cases moves little.
 */
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { stringify } from "yaml";
import { factsOf } from "../../src/interpret/facts.js";
import { pictureOf } from "../../src/interpret/picture.js";
import { weigh } from "../../src/interpret/weigh.js";
import { type Lessons, NO_LESSONS } from "../../src/knowledge/lessons-schema.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { type PublishedCase, visitOf } from "./read-cases.js";

const HEAD = `# What cases met before add to the weight of a finding or fact in a disorder, beyond what studies and rules say: natural-log units, before
# amount and share. Learned by \`npm run evaluate -- --learn\` from published cases and made-up ones (common practice), never from a study;
# how is told in tests/cases/learn.ts. A line that is wrong may be struck out. Made anew when cases or weights have changed.
`;

/** Writes lessons.yaml of a knowledge folder. */
export function writeLessons(folder: string, lessons: Lessons): void {
  writeFileSync(join(folder, "lessons.yaml"), HEAD + stringify(lessons, { lineWidth: 0 }));
}

/** What one case asks of the weights. */
interface Lesson {
  readonly id: string;
  readonly taught: boolean;
  /** Numbers of the confirmed disorders. */
  readonly confirmed: readonly number[];
  readonly scores: readonly number[];
  readonly entries: readonly { readonly feature: number; readonly factor: number }[];
}

export interface Lectures {
  readonly disorders: readonly string[];
  /** `findings/black-dots/present` and so on. */
  readonly features: readonly string[];
  readonly lessons: readonly Lesson[];
}

/** Chosen on cases left out: half or twice as much changes the figures little. */
const PENALTY = 1;
const STEPS = 200;
const RATE = 0.3;
/** Smaller ones are not written down. */
const LEAST = 0.1;

/** What the engine makes of every case without any lesson; `written` names the rules left out for a case. */
export function lecturesOf(
  cases: readonly PublishedCase[],
  knowledge: Knowledge,
  written: Readonly<Record<string, readonly string[]>>,
): Lectures {
  const plain: Knowledge = { ...knowledge, lessons: NO_LESSONS };
  const features = new Map<string, number>();
  const numberOf = (name: string) => {
    const known = features.get(name);
    if (known !== undefined) return known;
    features.set(name, features.size);
    return features.size - 1;
  };
  let disorders: readonly string[] = [];
  const lessons = cases.map((c): Lesson => {
    const { visit, measures } = visitOf(c, plain);
    const facts = factsOf(visit, measures, plain);
    const without = written[c.id];
    const weighed = weigh(facts, pictureOf(facts, visit.sites), without ? { without } : {});
    disorders = weighed.cells.disorders;
    return {
      id: c.id,
      taught: c.grade === "taught",
      confirmed: c.confirmed.map((id) => disorders.indexOf(id)).filter((d) => d >= 0),
      scores: weighed.scores,
      entries: weighed.entries.map(({ entry, factor }) => ({
        feature: numberOf(`${entry.kind}s/${entry.id}/${entry.state}`),
        factor,
      })),
    };
  });
  return { disorders, features: [...features.keys()], lessons };
}

/** Learns from all cases but those `except`. */
export function learn(lectures: Lectures, except: ReadonlySet<string> = new Set()): Lessons {
  const { disorders, features } = lectures;
  const lessons = lectures.lessons.filter((l) => !except.has(l.id) && l.confirmed.length > 0);
  const width = disorders.length;
  const weights = new Float64Array(features.length * width);
  const seen = new Float64Array(weights.length);
  for (let step = 0; step < STEPS; step++) {
    const slope = new Float64Array(weights.length);
    for (const l of lessons) {
      const chances = chancesOf(l, weights, width);
      const right = l.confirmed.reduce((sum, d) => sum + (chances[d] ?? 0), 0);
      for (let d = 0; d < width; d++) {
        const p = chances[d] ?? 0;
        const short = (l.confirmed.includes(d) ? p / right : 0) - p;
        for (const { feature, factor } of l.entries) {
          slope[feature * width + d] = (slope[feature * width + d] ?? 0) + short * factor;
        }
      }
    }
    // Steps that shrink where the slope was steep (Duchi, J Mach Learn Res 2011;12:2121-2159).
    for (let i = 0; i < weights.length; i++) {
      const s = (slope[i] ?? 0) - PENALTY * (weights[i] ?? 0);
      seen[i] = (seen[i] ?? 0) + s * s;
      weights[i] = (weights[i] ?? 0) + (RATE * s) / (Math.sqrt(seen[i] ?? 0) + 1);
    }
  }
  const taught = lessons.filter((l) => l.taught).length;
  return { cases: { published: lessons.length - taught, taught }, ...asRecords(weights, lectures) };
}

function chancesOf(l: Lesson, weights: Float64Array, width: number): Float64Array {
  const scores = Float64Array.from(l.scores);
  for (const { feature, factor } of l.entries) {
    for (let d = 0; d < width; d++)
      scores[d] = (scores[d] ?? 0) + factor * (weights[feature * width + d] ?? 0);
  }
  const most = Math.max(...scores);
  let total = 0;
  for (let d = 0; d < width; d++) {
    scores[d] = Math.exp((scores[d] ?? 0) - most);
    total += scores[d] ?? 0;
  }
  for (let d = 0; d < width; d++) scores[d] = (scores[d] ?? 0) / total;
  return scores;
}

type Moved = Record<string, { present?: Record<string, number>; absent?: Record<string, number> }>;

function asRecords(
  weights: Float64Array,
  { disorders, features }: Lectures,
): Pick<Lessons, "findings" | "facts"> {
  const found: { findings: Moved; facts: Moved } = { findings: {}, facts: {} };
  for (const [f, name] of [...features.entries()].sort(([, x], [, y]) => (x < y ? -1 : 1))) {
    const [kind, id = "", state] = name.split("/");
    const moved = disorders.flatMap((disorder, d): [string, number][] => {
      const weight = Math.round(100 * (weights[f * disorders.length + d] ?? 0)) / 100;
      return Math.abs(weight) >= LEAST ? [[disorder, weight]] : [];
    });
    if (moved.length === 0) continue;
    const of = kind === "facts" ? found.facts : found.findings;
    of[id] = { ...of[id], [state === "absent" ? "absent" : "present"]: Object.fromEntries(moved) };
  }
  return found;
}
