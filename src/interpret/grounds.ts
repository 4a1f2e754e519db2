/** On what a condition holds: the findings, facts, words, unasked questions, bands and impressions behind it. */
import type { FactId, FindingId } from "../base/ids.js";
import type { Condition } from "../knowledge/condition.js";
import { settledBy } from "./closing-tests.js";
import { bearing, holds, stateOf } from "./conditions.js";
import { isBegun, plannedLines, type Stated } from "./fact-states.js";
import type { Facts } from "./facts.js";
import type { Ground } from "./interpretation.js";

const KINDS: readonly Ground["kind"][] = [
  "fact",
  "medicine",
  "finding",
  "words",
  "impression",
  "band",
  "unasked",
];

/** The grounds of a condition that holds, each once: what was recorded first, then words, then what was concluded. */
export function groundsOf(c: Condition, facts: Facts): Ground[] {
  const all = collect(c, facts, undefined);
  const seen = new Set<string>();
  const once = all.filter((g) => {
    const key = `${g.kind}:${g.says}:${g.where ?? ""}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
  const place = (g: Ground) => `${g.says} ${g.where ?? ""}`;
  return once.toSorted(
    (a, b) => KINDS.indexOf(a.kind) - KINDS.indexOf(b.kind) || (place(a) < place(b) ? -1 : 1),
  );
}

function collect(c: Condition, facts: Facts, site: number | undefined): Ground[] {
  const standing = (parts: readonly Condition[]) =>
    parts.flatMap((part) => (holds(part, facts, site) ? collect(part, facts, site) : []));
  if ("all" in c) return standing(c.all);
  if ("any" in c) return standing(c.any);
  if ("of" in c) return standing(c.of);
  if ("not" in c) return [];
  if ("at_one_site" in c) {
    const part = c.at_one_site;
    return facts.visit.sites.flatMap((_, i) => (holds(part, facts, i) ? collect(part, facts, i) : []));
  }
  if ("finding" in c) return findingGrounds(list(c.finding), facts, site);
  if ("fact" in c && (c.state ?? "yes") === "yes")
    return list(c.fact).flatMap((id) => factGrounds(id, facts, site, c.by));
  if ("begun" in c) return c.begun.flatMap((id) => medicineGrounds(id, facts, c.weeks_under));
  if ("planned" in c) {
    return plannedLines(c.planned, facts.visit, facts.knowledge).map((i) => ({
      kind: "medicine",
      says: `planned: ${facts.visit.plan[i]?.action ?? ""}`,
      where: `plan[${i}]`,
    }));
  }
  if ("not_asked" in c) {
    return list(c.not_asked).flatMap((id): Ground[] => {
      const fact = facts.knowledge.facts[id];
      return fact ? [{ kind: "unasked", says: fact.term }] : [];
    });
  }
  if ("band" in c) {
    return list(c.band).flatMap((id): Ground[] => {
      const one: Condition = { band: id, at_least: c.at_least };
      return holds(one, facts)
        ? [{ kind: "band", says: `${named(id, facts)} is ${c.at_least} or more` }]
        : [];
    });
  }
  if ("impression" in c) {
    return list(c.impression).flatMap((id): Ground[] =>
      holds({ impression: id }, facts)
        ? [{ kind: "impression", says: named(id, facts), where: "impression" }]
        : [],
    );
  }
  if ("symptom" in c && "at_least" in c) {
    const level = facts.visit.history.symptoms[c.symptom] ?? 0;
    return [{ kind: "fact", says: `${c.symptom} ${level} of 10`, where: "history.symptoms" }];
  }
  if ("tested" in c) {
    return settledBy(c.tested, facts).flatMap((i): Ground[] => {
      const test = facts.visit.tests[i];
      if (!test) return [];
      const says = `${test.name} ${test.result ?? test.value ?? ""}`.trim();
      return [{ kind: "fact", says, where: `tests[${i}]` }];
    });
  }
  if ("test" in c) {
    return facts.visit.tests.flatMap((test, i): Ground[] => {
      const alone: Facts = { ...facts, tests: () => facts.tests().slice(i, i + 1) };
      const says = `${test.name} ${test.result ?? test.value ?? ""}`.trim();
      return holds(c, alone) ? [{ kind: "fact", says, where: `tests[${i}]` }] : [];
    });
  }
  return [];
}

function findingGrounds(ids: readonly FindingId[], facts: Facts, site: number | undefined): Ground[] {
  return ids.flatMap((id) =>
    facts.visit.sites.flatMap((entry, i): Ground[] =>
      (site ?? i) === i && stateOf(id, facts, i) === "present"
        ? [
            {
              kind: "finding",
              says: facts.knowledge.findings[id]?.term ?? id.replaceAll("-", " "),
              where: entry.site,
            },
          ]
        : [],
    ),
  );
}

function factGrounds(id: FactId, facts: Facts, site: number | undefined, by?: "answer" | "words"): Ground[] {
  const term = facts.knowledge.facts[id]?.term ?? id.replaceAll("-", " ");
  const { stated, read } = bearing(id, facts, site);
  const answers = stated.flatMap((s): Ground[] => {
    if (!s.yes || by === "words") return [];
    if (s.medicine) return [medicineGround(s, term)];
    return [{ kind: "fact", says: term, where: s.where }];
  });
  if (answers.length > 0 || by === "answer") return answers;
  return read.map((r) => ({ kind: "words", says: `${term}: “${r.words}”`, where: r.where }));
}

/** Of the medicines of a class those begun so lately. */
function medicineGrounds(id: FactId, facts: Facts, weeksUnder: number): Ground[] {
  const term = facts.knowledge.facts[id]?.term ?? id.replaceAll("-", " ");
  return (facts.stated.get(id) ?? []).flatMap((s) =>
    isBegun(s, weeksUnder) ? [medicineGround(s, term)] : [],
  );
}

const medicineGround = ({ medicine, where }: Stated, term: string): Ground => ({
  kind: "medicine",
  says: `${medicine} (${term})`,
  where,
});

function named(id: string, facts: Facts): string {
  const family = /^family:(.*)$/u.exec(id)?.[1];
  return family ?? facts.knowledge.disorders[id]?.term ?? id.replaceAll("-", " ");
}

function list<T>(value: T | T[]): T[] {
  return Array.isArray(value) ? value : [value];
}
