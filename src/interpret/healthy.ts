/**
 * How well a healthy scalp explains the picture. A comparator, never a verdict: it caps the bands of what explains the findings no
 * better, and only where nothing else speaks of disease.
 */
import type { Knowledge } from "../knowledge/schema.js";
import { logRatio } from "./cells.js";
import { findingsNamed, holds } from "./conditions.js";
import type { Facts } from "./facts.js";
import { isToldOnly, scarringSign } from "./picture.js";
import type { RuleLine } from "./rules.js";
import { lastedWeeks } from "./since.js";
import { foundFor, type Weighed, type WeighedEntry } from "./weigh.js";

export interface Healthy {
  readonly comparable: boolean;
  /** No complaint, no scarring, nothing that must not be missed: findings alone would have to speak of disease. */
  readonly quiet: boolean;
  /** The same, but for a duration, which tells that there is a complaint and not of what, and however the findings lean. */
  readonly calm: boolean;
  readonly why: string;
  /** Per disorder: how much better it explains what was found than a healthy scalp does, natural-log units; history left out. */
  readonly ahead: readonly number[];
}

/** `signed` is true when a sign of something that must not be missed stands. */
export function besideHealthy(facts: Facts, weighed: Weighed, leading: number, signed: boolean): Healthy {
  const { knowledge } = facts;
  const limits = knowledge.weighing.healthy;
  const usual = weighed.entries.reduce(
    (sum, e) => (isToldOnly(e.entry) ? sum : sum + healthyWeight(e, knowledge)),
    0,
  );
  // What healthy scalps show as well does not put a disorder ahead of them.
  const ahead = weighed.cells.disorders.map(
    (_, d) =>
      foundFor(weighed, d, (l) => l.weight <= 0 || !isCommon(l, weighed, knowledge)) -
      fromCases(weighed, d) -
      usual,
  );
  const scars = scarringSign(
    weighed.entries.map((e) => e.entry),
    knowledge,
  );
  const told = holds(limits.complaint, facts);
  const calm = weighed.entries.length > 0 && !told && !scars && !signed;
  const no = (why: string, quiet = false): Healthy => ({ comparable: false, quiet, calm, why, ahead });
  if (weighed.entries.length === 0) return no("No finding was recorded, present or absent.");
  if (told || lastedWeeks(facts.visit) !== undefined)
    return no("A complaint or sign of hair loss is recorded.");
  if (scars) return no("A sign of scarring is recorded.");
  if (signed) return no("Something that must not be missed is raised by what was recorded.");
  const best = knowledge.disorders[weighed.cells.disorders[leading] ?? ""]?.term;
  if (best !== undefined && (ahead[leading] ?? 0) > limits.within) {
    return no(`The findings speak for ${best} more than for a healthy scalp.`, true);
  }
  return {
    comparable: true,
    quiet: true,
    calm,
    why: "The findings recorded are also seen on healthy scalps.",
    ahead,
  };
}

/** Cases teach to tell disorders apart; no healthy scalp is among them, so what they add says nothing against one. */
function fromCases({ entries }: Weighed, d: number): number {
  return entries.reduce(
    (sum, e) => (isToldOnly(e.entry) ? sum : sum + e.factor * (e.row.lessons[d] ?? 0)),
    0,
  );
}

/** A pattern all of whose findings are common on healthy scalps is to be expected there as well. */
function isCommon(line: RuleLine, weighed: Weighed, knowledge: Knowledge): boolean {
  const pattern = knowledge.disorders[line.disorder]?.patterns.find((p) => p.id === line.id);
  const named = pattern ? findingsNamed(pattern.when) : [];
  const seen = weighed.entries.filter((e) => e.entry.state === "present" && named.includes(e.entry.id));
  return (
    seen.length > 0 && seen.every((e) => healthyShare(e, knowledge) >= knowledge.weighing.healthy.common)
  );
}

/** What a finding weighs for a healthy scalp. */
function healthyWeight(e: WeighedEntry, knowledge: Knowledge): number {
  const [low, high] = knowledge.weighing.frequency_limits;
  const p = Math.min(high, Math.max(low, healthyShare(e, knowledge)));
  return e.factor * logRatio(e.row.reading, p, e.row.average, knowledge);
}

/** How often a healthy scalp shows the finding; much of it less often than a little. */
function healthyShare({ entry, row }: WeighedEntry, knowledge: Knowledge): number {
  const { amounts, any_amount } = knowledge.weighing.healthy;
  if (entry.kind === "fact" || entry.amount === null || any_amount.includes(entry.id))
    return row.healthy.mean;
  return row.healthy.mean * amounts[entry.amount];
}
