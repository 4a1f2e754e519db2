/** What was not assessed and would best tell the leading candidates apart, by expected information (bits). */
import type { DisorderId } from "../base/ids.js";
import type { Condition } from "../knowledge/condition.js";
import type { Knowledge } from "../knowledge/schema.js";
import { anyPart, holds } from "./conditions.js";
import type { Facts } from "./facts.js";
import type { LookNext } from "./interpretation.js";
import { round } from "./reasons.js";
import { shiftsOf } from "./rules.js";
import type { Weighed } from "./weigh.js";

export interface Candidate {
  /** Number in the order of the cells. */
  readonly d: number;
  readonly id: string;
  /** Share of the total among the candidates. */
  readonly share: number;
}

const MOST = 5;
const LEAST_BITS = { finding: 0.02, test: 0.1, wound: 0.18 };
/**
 * How often a deciding test shows the disorder it is meant for, where no rule for its negative result says more. Common practice.
 * A result of weight w does so in this share times 1 - exp(-w): what moves little is no test worth waiting for.
 */
const TEST_SENSITIVITY = 0.8;
/** Results of less weight than this do not make a test worth offering. */
const DECIDES = 1.2;

/** Share of our belief spread evenly over the candidates, since a ranking may be wrong even where it looks sure. */
const DOUBT = 0.1;

/** A look tells enough when it brings at least this share of what a wound would. */
const WOULD_DO = 0.5;

/**
 * What a scalp that looks healthy is spared: what wounds or plucks, or every test; a scalp in which nothing is raised and healthy ones
 * show the same is looked at again, or left alone.
 */
export type Spared = "nothing" | "wounds" | "tests";

/** At most five findings or tests, most informative first. A test that wounds or plucks stands after every look that would do. */
export function lookNext(
  facts: Facts,
  weighed: Weighed,
  candidates: readonly Candidate[],
  spared: Spared,
): LookNext[] {
  if (candidates.length < 2) return [];
  const doubted = candidates.map((c) => ({ ...c, share: c.share * (1 - DOUBT) + DOUBT / candidates.length }));
  const tests = spared === "tests" ? [] : testsToDo(facts, doubted);
  const wounds = spared === "wounds" ? [] : tests.filter((t) => t.wounds);
  const gentle = [
    ...findingsToSee(facts, weighed, doubted),
    ...tests.filter((t) => !t.wounds).map((t) => t.look),
  ]
    .filter((l) => l.bits >= LEAST_BITS[l.kind])
    .sort(byBits);
  const hard = wounds
    .map((t) => t.look)
    .filter((l) => l.bits >= LEAST_BITS.wound)
    .sort(byBits);
  const least = WOULD_DO * (hard[0]?.bits ?? Number.POSITIVE_INFINITY);
  const first = gentle.filter((l) => l.bits >= least);
  return [...first, ...[...hard, ...gentle.slice(first.length)].sort(byBits)].slice(0, MOST);
}

function byBits(x: LookNext, y: LookNext): number {
  return y.bits - x.bits || (x.lookFor < y.lookFor ? -1 : 1);
}

/** Mutual information in bits between the candidates and an outcome; `chances[o][c]` is the chance of outcome o in candidate c. */
export function information(shares: readonly number[], chances: readonly (readonly number[])[]): number {
  let bits = 0;
  for (const chance of chances) {
    const total = chance.reduce((sum, p, c) => sum + p * (shares[c] ?? 0), 0);
    chance.forEach((p, c) => {
      if (p > 0 && total > 0) bits += (shares[c] ?? 0) * p * Math.log2(p / total);
    });
  }
  return Math.max(0, bits);
}

function findingsToSee(facts: Facts, weighed: Weighed, candidates: readonly Candidate[]): LookNext[] {
  const { knowledge } = facts;
  const assessed = new Set(weighed.entries.map((e) => e.entry.id));
  return Object.values(knowledge.findings).flatMap((finding): LookNext[] => {
    if (assessed.has(finding.id)) return [];
    const row = weighed.cells.row(finding.id, "present", undefined);
    if (candidates.every((c) => row.cells[c.d]?.byDefault !== false)) return [];
    const chance = candidates.map((c) => {
      const p = row.frequencies[c.d] ?? row.average;
      return row.average + finding.share * (p - row.average);
    });
    const bits = information(
      candidates.map((c) => c.share),
      [chance, chance.map((p) => 1 - p)],
    );
    const separates = mostApart(candidates, chance);
    const says = `${finding.term} would separate ${termsOf(separates, knowledge)}`;
    return [{ lookFor: finding.id, kind: "finding", says, separates, bits: round(bits) }];
  });
}

interface TestGroup {
  readonly words: readonly string[];
  /** Per outcome that speaks for something: shift by disorder. */
  readonly outcomes: ReadonlyMap<string, number>[];
  /** Per disorder, the shift of a result that speaks against it. */
  readonly against: Map<string, number>;
}

function testsToDo(
  facts: Facts,
  candidates: readonly Candidate[],
): { readonly look: LookNext; readonly wounds: boolean }[] {
  const { knowledge } = facts;
  const groups = new Map<string, TestGroup>();
  for (const { words, done, shifts } of testRules(knowledge)) {
    if (holds(done, facts)) continue;
    const name = plainName(words);
    const group = groups.get(name) ?? { words, outcomes: [], against: new Map<string, number>() };
    if ([...shifts.values()].some((w) => w >= DECIDES)) group.outcomes.push(shifts);
    else if ([...shifts.values()].every((w) => w < 0))
      for (const [id, w] of shifts) group.against.set(id, Math.min(w, group.against.get(id) ?? 0));
    groups.set(name, group);
  }
  return [...groups.values()].flatMap((group) => {
    const effort = effortOf(group.words, knowledge);
    const chances = group.outcomes.map((shifts) => {
      const strongest = Math.max(...shifts.values());
      return candidates.map((c) => {
        const shift = shifts.get(c.id) ?? 0;
        const against = group.against.get(c.id);
        const shown =
          against === undefined ? TEST_SENSITIVITY * (1 - Math.exp(-strongest)) : 1 - Math.exp(against);
        return shift > 0 ? shown : shown * Math.exp(-strongest);
      });
    });
    if (chances.length === 0 || chances.every((row) => row.every((p) => p < 0.1))) return [];
    const sums = candidates.map((_, c) => chances.reduce((sum, row) => sum + (row[c] ?? 0), 0));
    const fair = chances.map((row) => row.map((p, c) => p / Math.max(1, sums[c] ?? 1)));
    const rest = candidates.map((_, c) => Math.max(0, 1 - (sums[c] ?? 0)));
    const bits =
      effort.worth *
      information(
        candidates.map((c) => c.share),
        [...fair, rest],
      );
    const telling = fair.reduce((x, y) => (spreadOf(y) > spreadOf(x) ? y : x), fair[0] ?? []);
    const separates = mostApart(candidates, telling);
    const says = `${plainName(group.words)} would separate ${termsOf(separates, knowledge)}`;
    const look = {
      lookFor: plainName(group.words),
      kind: "test" as const,
      says,
      separates,
      bits: round(bits),
    };
    return [{ look, wounds: effort.wounds }];
  });
}

interface TestRule {
  readonly words: readonly string[];
  readonly done: Condition;
  readonly shifts: ReadonlyMap<DisorderId, number>;
}

const testRulesOf = new WeakMap<Knowledge, readonly TestRule[]>();

/** The rules that a test's result decides. */
function testRules(knowledge: Knowledge): readonly TestRule[] {
  let rules = testRulesOf.get(knowledge);
  if (!rules) {
    rules = knowledge.context.flatMap((rule): TestRule[] => {
      const words = testWords(rule.when);
      return words ? [{ words, done: { test: [...words] }, shifts: shiftsOf(rule, knowledge) }] : [];
    });
    testRulesOf.set(knowledge, rules);
  }
  return rules;
}

/** Information is worth less where getting it costs the patient more. */
function effortOf(words: readonly string[], knowledge: Knowledge): { worth: number; wounds: boolean } {
  const found = knowledge.weighing.effort.find((e) => e.words.some((w) => words.includes(w)));
  return { worth: found?.worth ?? 1, wounds: found?.wounds ?? false };
}

/** The first full word of a test's names: `biopsy` and not `biops*`. */
function plainName(words: readonly string[]): string {
  return words.find((w) => !w.includes("*")) ?? (words[0] ?? "").replaceAll("*", "");
}

function testWords(when: Condition): readonly string[] | undefined {
  let words: readonly string[] | undefined;
  anyPart(when, (c) => {
    if ("test" in c) words ??= c.test;
    return words !== undefined;
  });
  return words;
}

function spreadOf(row: readonly number[]): number {
  return Math.max(...row) - Math.min(...row);
}

/** The two candidates that the outcome tells apart best, weighed by how likely both are; the one that shows it first. */
function mostApart(candidates: readonly Candidate[], chance: readonly number[]): string[] {
  let best = { gain: -1, pair: [] as string[] };
  candidates.forEach((x, i) => {
    candidates.slice(i + 1).forEach((y, j) => {
      const [px, py] = [chance[i] ?? 0, chance[i + 1 + j] ?? 0];
      const gain = x.share * y.share * (px - py) ** 2;
      if (gain > best.gain) best = { gain, pair: px >= py ? [x.id, y.id] : [y.id, x.id] };
    });
  });
  return best.pair;
}

function termsOf(ids: readonly DisorderId[], knowledge: Knowledge): string {
  return ids.map((id) => knowledge.disorders[id]?.term ?? id).join(" from ");
}
