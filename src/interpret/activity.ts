/** Which markers say that a disorder is active, stable, long-standing or recovering; and, with an earlier visit, which way it goes. */
import type { FindingId } from "../base/ids.js";
import type { Disorder } from "../knowledge/schema.js";
import { findingsNamed, holds, stateOf } from "./conditions.js";
import { amountRank, type Facts } from "./facts.js";
import type { ActivityView } from "./interpretation.js";

type State = Disorder["activity"][number]["state"];

interface Sign {
  readonly state: State;
  readonly markers: readonly string[];
  readonly says: string;
  readonly source: string;
}

/** Activity and stage of one disorder; `before` holds the earlier visit's facts. */
export function activityOf(disorder: Disorder, facts: Facts, before?: Facts): ActivityView {
  const signs: Sign[] = disorder.activity
    .filter((a) => holds(a.when, facts))
    .map((a) => ({
      state: a.state,
      markers: findingsNamed(a.when).filter((id) => stateOf(id, facts) === "present"),
      says: a.says,
      source: a.source,
    }));
  if (before) signs.push(...trend(disorder, facts, before));
  const stage = disorder.stages.find((s) => holds(s.when, facts));
  const states = new Set(signs.map((s) => s.state));
  return {
    disorder: disorder.id,
    state: stateFrom(states),
    ...(stage ? { stage: stage.stage } : {}),
    markers: [...new Set(signs.flatMap((s) => s.markers))],
    says: [...new Set([...signs.map((s) => s.says), ...(stage ? [stage.says] : [])])],
    source: [...new Set([...signs.map((s) => s.source), ...(stage ? [stage.source] : [])])].join("; "),
  };
}

/** Stable and long-standing agree with each other; any other two states together are mixed, and both are said. */
function stateFrom(states: ReadonlySet<State>): ActivityView["state"] {
  const [first] = states;
  if (first === undefined) return "not assessable";
  if (states.size === 1) return first;
  if (states.size === 2 && states.has("stable") && states.has("long-standing")) return "long-standing";
  return "mixed";
}

/** Markers of activity that rose or fell since the earlier visit; only those assessed at both count. */
function trend(disorder: Disorder, facts: Facts, before: Facts): Sign[] {
  const active = new Set(
    disorder.activity.filter((a) => a.state === "active").flatMap((a) => findingsNamed(a.when)),
  );
  const moved = [...active].flatMap((id) => {
    const [then, now] = [level(id, before), level(id, facts)];
    return then === undefined || now === undefined || then === now ? [] : [{ id, up: now > then }];
  });
  const word = (id: FindingId) => facts.knowledge.findings[id]?.term ?? id;
  const line = (state: State, ids: readonly FindingId[], how: string): Sign => ({
    state,
    markers: ids,
    says: `${ids.map(word).join(" and ")}: ${how} than on ${before.visit.date}.`,
    source: "common practice",
  });
  const up = moved.filter((m) => m.up).map((m) => m.id);
  const down = moved.filter((m) => !m.up).map((m) => m.id);
  return [
    ...(up.length > 0 ? [line("active", up, "more")] : []),
    ...(down.length > 0 && up.length === 0 ? [line("recovering", down, "fewer")] : []),
  ];
}

/** 0 for looked for and absent, 1-5 for the largest amount, undefined when not assessed. */
function level(finding: FindingId, facts: Facts): number | undefined {
  const found = facts.seen.flatMap((s) => {
    const seen = s.get(finding);
    return seen ? [seen.state === "present" ? amountRank(seen.amount) : 0] : [];
  });
  return found.length > 0 ? Math.max(...found) : undefined;
}
