/** Judges the conditions of the knowledge files on a visit. Three kinds of silence stay apart: absent, not assessed, not known. */

import { groupBy } from "../base/group.js";
import type { FindingId } from "../base/ids.js";
import type { Condition, MentionPlace } from "../knowledge/condition.js";
import { heldImpressions } from "../visit/held.js";
import type { ReadFact } from "../visit/prose/read-prose.js";
import { figureOf, isOutside } from "../visit/test-figure.js";
import { AMOUNTS, type Seen, type Visit } from "../visit/visit.js";
import { mentionsAny, phraseOf } from "./clauses.js";
import { isArranged, settledBy } from "./closing-tests.js";
import { isBegun, plannedLines, type Stated, saysNone, speaksFor } from "./fact-states.js";
import { amountRank, type Facts, inRegion } from "./facts.js";
import { BANDS } from "./interpretation.js";
import { lastedWeeks } from "./since.js";

type FindingCondition = Extract<Condition, { finding: unknown }>;
type Judge = (facts: Facts, site: number | undefined) => boolean;

/** Conditions are data that never change, so what can be worked out before any visit is worked out once. */
const judges = new WeakMap<Condition, Judge>();

/** True when the condition holds; with `site`, findings and measures are read at that site only. */
export function holds(c: Condition, facts: Facts, site?: number): boolean {
  let judge = judges.get(c);
  if (!judge) {
    judge = judgeOf(c);
    judges.set(c, judge);
  }
  return judge(facts, site);
}

function judgeOf(c: Condition): Judge {
  if ("all" in c) {
    const parts = c.all.map(judgeOf);
    return (facts, site) => parts.every((judge) => judge(facts, site));
  }
  if ("any" in c) {
    const parts = c.any.map(judgeOf);
    return (facts, site) => parts.some((judge) => judge(facts, site));
  }
  if ("not" in c) {
    const part = judgeOf(c.not);
    return (facts, site) => !part(facts, site);
  }
  if ("of" in c) {
    const parts = c.of.map(judgeOf);
    return (facts, site) => parts.filter((judge) => judge(facts, site)).length >= c.at_least;
  }
  if ("at_one_site" in c) {
    const part = judgeOf(c.at_one_site);
    return (facts) => facts.visit.sites.some((_, i) => part(facts, i));
  }
  if ("finding" in c) return findingJudge(c);
  if ("absent" in c) {
    const ids = list(c.absent);
    return (facts, site) => ids.every((id) => stateOf(id, facts, site) === "absent");
  }
  if ("not_assessed" in c) {
    const ids = list(c.not_assessed);
    return (facts, site) => ids.every((id) => stateOf(id, facts, site) === "not assessed");
  }
  if ("mentions" in c) return mentionJudge(c.mentions, c.in);
  if ("value_below" in c) return figureJudge(c.test, (t) => (figureOf(t) ?? c.value_below) < c.value_below);
  if ("outside" in c) return figureJudge(c.test, (t) => isOutside(t, c.outside, c.times));
  if ("test" in c) return testJudge(c.test, c.result);
  if ("tested" in c) return (facts) => settledBy(c.tested, facts).length > 0;
  if ("arranged" in c) return (facts) => isArranged(c.arranged, facts);
  if ("fact" in c) return factJudge(c);
  return (facts, site) => plainlyHolds(c, facts, site);
}

type Plain = Exclude<
  Condition,
  | { all: unknown }
  | { any: unknown }
  | { not: unknown }
  | { of: unknown }
  | { at_one_site: unknown }
  | { finding: unknown }
  | { absent: unknown }
  | { not_assessed: unknown }
  | { mentions: unknown }
  | { test: unknown }
  | { tested: unknown }
  | { arranged: unknown }
  | { fact: unknown }
>;

function plainlyHolds(c: Plain, facts: Facts, site: number | undefined): boolean {
  const { visit } = facts;
  if ("age_under" in c) return facts.age < c.age_under;
  if ("age_from" in c) return facts.age >= c.age_from;
  if ("sex" in c) return list(c.sex).includes(visit.patient.sex);
  if ("phototype" in c)
    return visit.patient.phototype !== undefined && c.phototype.includes(visit.patient.phototype);
  if ("pregnancy" in c)
    return visit.patient.pregnancy !== undefined && c.pregnancy.includes(visit.patient.pregnancy);
  if ("onset" in c) return visit.history.onset !== undefined && list(c.onset).includes(visit.history.onset);
  if ("course" in c)
    return visit.history.course !== undefined && list(c.course).includes(visit.history.course);
  if ("shedding" in c)
    return visit.history.shedding !== undefined && list(c.shedding).includes(visit.history.shedding);
  if ("duration_weeks_under" in c)
    return (lastedWeeks(visit) ?? Number.POSITIVE_INFINITY) < c.duration_weeks_under;
  if ("duration_weeks_from" in c)
    return (lastedWeeks(visit) ?? Number.NEGATIVE_INFINITY) >= c.duration_weeks_from;
  if ("symptom" in c) {
    const level = visit.history.symptoms[c.symptom];
    if (level === undefined) return false;
    return "at_least" in c ? level >= c.at_least : level <= c.at_most;
  }
  if ("stopped" in c) {
    const taken = c.stopped.flatMap((id) => facts.stated.get(id) ?? []).filter((s) => s.medicine);
    return taken.length > 0 && taken.every((s) => (s.stoppedWeeks ?? -1) >= c.weeks_from);
  }
  if ("begun" in c) return c.begun.some((id) => facts.stated.get(id)?.some((s) => isBegun(s, c.weeks_under)));
  if ("planned" in c) return plannedLines(c.planned, visit, facts.knowledge).length > 0;
  if ("not_asked" in c) return list(c.not_asked).every((id) => !facts.stated.has(id));
  if ("line_open" in c) return c.line_open.some((id) => facts.openLines?.includes(id));
  if ("plan_answers" in c)
    return visit.plan.some((p) => !p.declined && p.answers?.some((id) => c.plan_answers.includes(id)));
  if ("pull_test" in c) return pullTest(facts) === c.pull_test;
  if ("examined" in c)
    return visit.sites.some((s, i) => (site ?? i) === i && c.examined.some((r) => inRegion(s.site, r)));
  if ("patch_recorded" in c)
    return visit.sites.some((s, i) => (site ?? i) === i && s.patch !== undefined) === c.patch_recorded;
  if ("medicine_recorded" in c)
    return visit.history.medicines.some((m) => !saysNone(m.name)) === c.medicine_recorded;
  if ("sites_from" in c) return visit.sites.length >= c.sites_from;
  if ("measure" in c) {
    return facts.measures.measured.some(
      (m) =>
        m.id === c.measure &&
        (site === undefined || m.site === visit.sites[site]?.site) &&
        ("above" in c ? m.value > c.above : m.value < c.below),
    );
  }
  if ("rule" in c) return facts.measures.rules.some((r) => r.id === c.rule && r.met === c.met);
  if ("impression" in c) {
    const held = heldImpressions(visit).map((i) => i.disorder);
    return disorders(c.impression, facts).some((id) => held.includes(id));
  }
  const least = BANDS.indexOf(c.at_least);
  return disorders(c.band, facts).some((id) => {
    const band = facts.bands?.[id];
    return band !== undefined && BANDS.indexOf(band) <= least;
  });
}

/** Present anywhere, else absent when looked for, else not assessed. */
export function stateOf(
  finding: FindingId,
  facts: Facts,
  site?: number,
): "present" | "absent" | "not assessed" {
  const found = facts.seen.flatMap((s, i) => ((site ?? i) === i && s.has(finding) ? [s.get(finding)] : []));
  if (found.some((s) => s?.state === "present")) return "present";
  return found.length > 0 ? "absent" : "not assessed";
}

/** The finding ids a condition asks to be present, for naming markers. */
export function findingsNamed(c: Condition): string[] {
  if ("all" in c) return c.all.flatMap(findingsNamed);
  if ("any" in c) return c.any.flatMap(findingsNamed);
  if ("of" in c) return c.of.flatMap(findingsNamed);
  if ("at_one_site" in c) return findingsNamed(c.at_one_site);
  return "finding" in c ? list(c.finding) : [];
}

/** True when any part of the condition passes `test`. */
export function anyPart(c: Condition, test: (part: Condition) => boolean): boolean {
  if (test(c)) return true;
  if ("all" in c) return c.all.some((x) => anyPart(x, test));
  if ("any" in c) return c.any.some((x) => anyPart(x, test));
  if ("of" in c) return c.of.some((x) => anyPart(x, test));
  if ("not" in c) return anyPart(c.not, test);
  return "at_one_site" in c && anyPart(c.at_one_site, test);
}

const readsByFact = new WeakMap<readonly ReadFact[], ReadonlyMap<string, readonly ReadFact[]>>();

/** What free text says of one fact; most texts say nothing of most facts. */
function readsOf(id: string, facts: Facts): readonly ReadFact[] {
  const reads = facts.reads();
  let byFact = readsByFact.get(reads);
  if (!byFact) {
    byFact = groupBy(reads, (r) => r.fact);
    readsByFact.set(reads, byFact);
  }
  return byFact.get(id) ?? [];
}

/** What is recorded of a fact, and the words that speak for it; with `site`, of that site and of the visit as a whole. */
export function bearing(
  id: string,
  facts: Facts,
  site?: number,
): { readonly stated: readonly Stated[]; readonly read: readonly ReadFact[] } {
  const stated = (facts.stated.get(id) ?? []).filter((s) => (s.site ?? site) === site || site === undefined);
  const here = (where: string) =>
    site === undefined || !where.startsWith("sites[") || where.startsWith(`sites[${site}]`);
  const fact = facts.knowledge.facts[id];
  const read = readsOf(id, facts).filter((r) => here(r.where) && speaksFor(r, fact));
  return { stated: facts.unanswered?.has(id) ? stated.filter((s) => s.yes) : stated, read };
}

function factJudge(c: Extract<Condition, { fact: unknown }>): Judge {
  const ids = list(c.fact);
  return (facts, site) =>
    ids.some((id) => {
      const { stated, read } = bearing(id, facts, site);
      const answered = stated.some((s) => s.yes);
      if (c.state === "no") return stated.length > 0 && !answered;
      if (answered || c.by === "answer") return answered && c.by !== "words";
      return stated.length === 0 && read.length > 0;
    });
}

function findingJudge(c: FindingCondition): Judge {
  const ids = list(c.finding);
  return (facts, site) =>
    facts.visit.sites.some((s, i) => {
      if ((site ?? i) !== i || (c.in && !c.in.some((r) => inRegion(s.site, r)))) return false;
      return ids.some((id) => amountFits(facts.seen[i]?.get(id), c));
    });
}

function amountFits(seen: Seen | undefined, c: FindingCondition): boolean {
  if (seen?.state !== "present") return false;
  const rank = amountRank(seen.amount);
  if (c.at_least && rank < AMOUNTS.indexOf(c.at_least) + 1) return false;
  return !(c.at_most && seen.amount !== null && rank > AMOUNTS.indexOf(c.at_most) + 1);
}

function testJudge(test: readonly string[], result: readonly string[] | undefined): Judge {
  const names = test.map(phraseOf);
  const results = result?.map(phraseOf);
  return (facts) => {
    const { denial } = facts.knowledge.weighing;
    return facts
      .tests()
      .some(
        (t) => mentionsAny(t.name, names, denial) && (!results || mentionsAny(t.result, results, denial)),
      );
  };
}

function figureJudge(test: readonly string[], fits: (test: Visit["tests"][number]) => boolean): Judge {
  const names = test.map(phraseOf);
  return (facts) => {
    const { denial } = facts.knowledge.weighing;
    return facts.visit.tests.some(
      (t, i) => fits(t) && mentionsAny(facts.tests()[i]?.name ?? [], names, denial),
    );
  };
}

/** Without places, wherever something found is told. */
function mentionJudge(words: readonly string[], places: readonly MentionPlace[] | undefined): Judge {
  const phrases = words.map(phraseOf);
  return (facts) => {
    const { denial } = facts.knowledge.weighing;
    if (!places) return mentionsAny(facts.found(), phrases, denial);
    return places.some((place) => mentionsAny(facts.text(place), phrases, denial));
  };
}

/** As the measure room judged it; undefined when not done. */
function pullTest(facts: Facts): "positive" | "negative" | undefined {
  const rules = facts.measures.rules.filter((r) => r.id.startsWith("hair-pull") && r.met !== null);
  if (rules.length === 0) return undefined;
  return rules.some((r) => r.met) ? "positive" : "negative";
}

function disorders(words: string | string[], facts: Facts): string[] {
  return list(words).flatMap((w) =>
    w.startsWith("family:")
      ? Object.values(facts.knowledge.disorders)
          .filter((d) => `family:${d.family}` === w)
          .map((d) => d.id)
      : [w],
  );
}

function list<T>(value: T | T[]): T[] {
  return Array.isArray(value) ? value : [value];
}
