/** Patterns, context rules, published rules and tests that hold for a visit -> ledger lines per disorder. */
import type { DisorderId } from "../base/ids.js";
import type { Condition } from "../knowledge/condition.js";
import type { ContextRule, Knowledge } from "../knowledge/schema.js";
import { anyPart, findingsNamed, holds, stateOf } from "./conditions.js";
import type { Facts } from "./facts.js";
import type { Reason } from "./interpretation.js";

export interface RuleLine {
  readonly disorder: DisorderId;
  readonly kind: Exclude<Reason["kind"], "finding" | "fact">;
  readonly id: string;
  readonly says: string;
  /** After the soft limit on context. */
  readonly weight: number;
  readonly rawWeight: number;
  readonly source: string;
}

export interface RuleParts {
  readonly context?: boolean;
  readonly patterns?: boolean;
  /** Ids of rules to leave out. */
  readonly without?: readonly string[];
}

/** Every line that holds, context softly limited per disorder; `parts` set to false leaves that kind out. */
export function ruleLines(facts: Facts, parts: RuleParts = {}): RuleLine[] {
  const { knowledge } = facts;
  const book = bookOf(knowledge);
  const kept = (rules: readonly Rule[]) =>
    parts.without ? rules.filter((r) => !parts.without?.includes(r.id)) : rules;
  const { sharpen } = knowledge.weighing;
  const holding = parts.patterns === false ? [] : kept(book.patterns).filter((r) => holds(r.when, facts));
  const patterns = mostSpecific(holding, facts)
    .flatMap((r) => r.lines)
    .map((l) => sharpened(l, l.kind === "test" ? 1 : sharpen.patterns));
  const context = linesOf(kept(book.context), facts).filter(
    (l) => l.kind === "test" || parts.context !== false,
  );
  const totals = new Map<string, number>();
  for (const line of context) {
    if (line.kind !== "test") totals.set(line.disorder, (totals.get(line.disorder) ?? 0) + line.weight);
  }
  const limited = context.map((line) =>
    line.kind === "test"
      ? line
      : {
          ...line,
          weight: line.weight * shrink(totals.get(line.disorder) ?? 0, knowledge.weighing.context_limit),
        },
  );
  return [...patterns, ...limited];
}

/**
 * No finding counts twice through nested patterns: of two that speak the same way for one disorder, and of which one rests on all the
 * findings that the other rests on and on more, only the one that rests on more is kept.
 */
function mostSpecific(holding: readonly Rule[], facts: Facts): readonly Rule[] {
  const standing = holding.map((rule) => ({
    rule,
    rests: rule.named.filter((id) => stateOf(id, facts) === "present"),
  }));
  return standing.filter((x) => !standing.some((y) => replaces(y, x))).map(({ rule }) => rule);
}

interface StandingRule {
  readonly rule: Rule;
  /** Findings present that its condition names. */
  readonly rests: readonly string[];
}

function replaces(other: StandingRule, one: StandingRule): boolean {
  const [x, y] = [other.rule.lines[0], one.rule.lines[0]];
  return (
    x !== undefined &&
    x.disorder === y?.disorder &&
    Math.sign(x.weight) === Math.sign(y.weight) &&
    one.rests.length > 0 &&
    other.rests.length > one.rests.length &&
    one.rests.every((id) => other.rests.includes(id))
  );
}

function sharpened(line: RuleLine, factor: number): RuleLine {
  return factor === 1 ? line : { ...line, weight: line.weight * factor };
}

/** Factor that brings a total under its soft limit: near 1 for small totals, limit/total for large ones. */
export function shrink(total: number, limit: number): number {
  return total === 0 ? 1 : (limit * Math.tanh(total / limit)) / total;
}

interface Rule {
  readonly id: string;
  readonly when: Condition;
  /** Findings that it asks to be present. */
  readonly named: readonly string[];
  /** What it adds, before the soft limit. */
  readonly lines: readonly RuleLine[];
}

const books = new WeakMap<
  Knowledge,
  { readonly patterns: readonly Rule[]; readonly context: readonly Rule[] }
>();

function bookOf(knowledge: Knowledge) {
  let book = books.get(knowledge);
  if (!book) {
    const disorders = Object.values(knowledge.disorders);
    const patterns = disorders.flatMap((d) =>
      d.patterns.map((p) => ruleOf(p, "pattern", [[d.id, p.weight]])),
    );
    const context = knowledge.context.map((rule) => ruleOf(rule, "context", shiftsOf(rule, knowledge)));
    book = { patterns, context };
    books.set(knowledge, book);
  }
  return book;
}

function ruleOf(
  { id, when, says, source }: Pick<ContextRule, "id" | "when" | "says" | "source">,
  plain: "pattern" | "context",
  shifts: Iterable<readonly [string, number]>,
): Rule {
  const kind = kindOf(when, plain);
  const lines = [...shifts].map(([disorder, weight]) => ({
    disorder,
    kind,
    id,
    says,
    weight,
    rawWeight: weight,
    source,
  }));
  return { id, when, named: [...new Set(findingsNamed(when))], lines };
}

function linesOf(rules: readonly Rule[], facts: Facts): RuleLine[] {
  return rules.flatMap((rule) => (holds(rule.when, facts) ? rule.lines : []));
}

/** Shift per disorder; a disorder named itself takes its own value and not its family's. */
export function shiftsOf(rule: ContextRule, knowledge: Knowledge): Map<DisorderId, number> {
  const shifts = new Map<DisorderId, number>();
  for (const d of Object.values(knowledge.disorders)) {
    const weight = rule.shifts[d.id] ?? rule.shifts[`family:${d.family}`];
    if (weight !== undefined && weight !== 0) shifts.set(d.id, weight);
  }
  return shifts;
}

function kindOf(when: Condition, plain: "pattern" | "context"): RuleLine["kind"] {
  if (anyPart(when, (c) => "test" in c)) return "test";
  return anyPart(when, (c) => "measure" in c || "rule" in c) ? "rule" : plain;
}
