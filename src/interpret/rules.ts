/** Patterns, context rules, published rules and tests that hold for a visit -> ledger lines per disorder. */
import type { Condition } from "../knowledge/condition.js";
import type { ContextRule, Knowledge } from "../knowledge/schema.js";
import { anyPart, holds } from "./conditions.js";
import type { Facts } from "./facts.js";
import type { Reason } from "./interpretation.js";

export interface RuleLine {
  readonly disorder: string;
  readonly kind: Exclude<Reason["kind"], "finding">;
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
}

/** Every line that holds, context softly limited per disorder; `parts` set to false leaves that kind out. */
export function ruleLines(facts: Facts, parts: RuleParts = {}): RuleLine[] {
  const { knowledge } = facts;
  const patterns = parts.patterns === false ? [] : patternLines(facts);
  const context = contextLines(facts).filter((l) => l.kind === "test" || parts.context !== false);
  const totals = new Map<string, number>();
  for (const line of context) {
    if (line.kind !== "test") totals.set(line.disorder, (totals.get(line.disorder) ?? 0) + line.rawWeight);
  }
  const limited = context.map((line) =>
    line.kind === "test"
      ? line
      : {
          ...line,
          weight: line.rawWeight * shrink(totals.get(line.disorder) ?? 0, knowledge.weighing.context_limit),
        },
  );
  return [...patterns, ...limited];
}

/** Factor that brings a total under its soft limit: near 1 for small totals, limit/total for large ones. */
export function shrink(total: number, limit: number): number {
  return total === 0 ? 1 : (limit * Math.tanh(total / limit)) / total;
}

function patternLines(facts: Facts): RuleLine[] {
  const lines: RuleLine[] = [];
  for (const d of Object.values(facts.knowledge.disorders)) {
    for (const p of d.patterns) {
      if (!holds(p.when, facts)) continue;
      const kind = kindOf(p.when, "pattern");
      const { id, says, weight, source } = p;
      lines.push({ disorder: d.id, kind, id, says, weight, rawWeight: weight, source });
    }
  }
  return lines;
}

function contextLines(facts: Facts): RuleLine[] {
  const lines: RuleLine[] = [];
  for (const rule of facts.knowledge.context) {
    if (!holds(rule.when, facts)) continue;
    const kind = kindOf(rule.when, "context");
    for (const [disorder, weight] of shiftsOf(rule, facts.knowledge)) {
      const { id, says, source } = rule;
      lines.push({ disorder, kind, id, says, weight, rawWeight: weight, source });
    }
  }
  return lines;
}

/** Shift per disorder; a disorder named itself takes its own value and not its family's. */
export function shiftsOf(rule: ContextRule, knowledge: Knowledge): Map<string, number> {
  const shifts = new Map<string, number>();
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
