/** Interpretation and measures -> the object that `whorl explain --json` prints. Keys are fixed; more may be added. */
import type { Measures } from "../measure/types.js";
import type { Interpretation, Reason } from "./interpretation.js";

/** Plain snake_case data, in the order of the interpretation. */
export function explainJson(interpretation: Interpretation, measures: Measures): Record<string, unknown> {
  const i = interpretation;
  return {
    visit: i.visit,
    disorders: i.disorders.map((d) => ({
      id: d.id,
      band: d.band,
      leads: d.leads,
      score: d.score,
      base: d.base,
      for: d.for.map(reasonJson),
      against: d.against.map(reasonJson),
    })),
    second: i.second
      ? { id: i.second.id, question: i.second.question, explains: i.second.explains, why: i.second.why }
      : null,
    sites: i.sites.map((s) => ({ site: s.site, index: s.index, leading: s.leading })),
    unexplained: i.unexplained,
    healthy: { comparable: i.healthy.comparable, why: i.healthy.why },
    activity: i.activity.map((a) => ({
      disorder: a.disorder,
      state: a.state,
      ...(a.stage ? { stage: a.stage } : {}),
      markers: a.markers,
      says: a.says,
      source: a.source,
    })),
    must_not_miss: i.mustNotMiss.map((m) => ({
      id: m.id,
      why: m.why,
      urgency: m.urgency,
      who: m.who,
      raised_by: m.raisedBy,
      closed_by: m.closedBy,
      answered_by_plan: m.answeredByPlan,
      caution: m.caution,
    })),
    asked_for: i.askedFor,
    read_from_words: i.readFromWords,
    look_next: i.lookNext.map((l) => ({
      look_for: l.lookFor,
      kind: l.kind,
      separates: l.separates,
      bits: l.bits,
      says: l.says,
    })),
    agreement: { recorded: i.agreement.recorded, verdict: i.agreement.verdict, why: i.agreement.why },
    not_assessed: i.notAssessed,
    assessed_share: i.assessedShare,
    notes: i.notes,
    measures: measures.measured.map((m) => ({
      id: m.id,
      ...(m.site ? { site: m.site } : {}),
      value: m.value,
      unit: m.unit,
      ...(m.low === undefined ? {} : { low: m.low }),
      ...(m.high === undefined ? {} : { high: m.high }),
      ...(m.n === undefined ? {} : { n: m.n }),
      source: m.source,
    })),
  };
}

/** A finding stands under `finding`; a pattern, rule or test under the name of its kind. */
function reasonJson(r: Reason): Record<string, unknown> {
  return {
    [r.kind]: r.id,
    says: r.says,
    ...(r.site ? { site: r.site } : {}),
    ...(r.examined === undefined ? {} : { examined: r.examined }),
    ...(r.state ? { state: r.state } : {}),
    ...(r.amount === undefined ? {} : { amount: r.amount }),
    weight: r.weight,
    ...(r.rawWeight === undefined ? {} : { raw_weight: r.rawWeight }),
    ...(r.fromCases === undefined ? {} : { from_cases: r.fromCases }),
    ...(r.frequency ? { frequency: r.frequency } : {}),
    source: r.source,
  };
}
