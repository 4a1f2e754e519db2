/** The interpretation in words, for the reasoning sheet and for `whorl explain`. For the clinician only. */

import type { DisorderId, FindingId } from "../base/ids.js";
import { fill } from "../base/text.js";
import { drawsWord } from "../interpret/interpret.js";
import type { Interpretation, Reason } from "../interpret/interpretation.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Measures } from "../measure/types.js";
import { heldImpressions } from "../visit/held.js";
import type { Visit } from "../visit/visit.js";
import type { SourceList } from "./measurements.js";
import { capital, type Words, writeDate, writeNumber } from "./phrases.js";
import { metWord } from "./recorded-scores.js";
import type { LetterFacts } from "./variables.js";

export type ReasoningFacts = NonNullable<LetterFacts["reasoning"]>;
export type DisorderFacts = ReasoningFacts["leading"][number];
export type ReasonFacts = DisorderFacts["for"][number];

/** How many disorders a reader takes in on one sheet, and how many reasons for each. */
const MOST_DISORDERS = 3;
const MOST_REASONS = 6;

/** `most` reasons per disorder; give Infinity for the whole ledger. */
export function disorderFacts(
  words: Words,
  knowledge: Knowledge,
  view: Interpretation["disorders"][number],
  sources: SourceList,
  most: number = MOST_REASONS,
): DisorderFacts {
  return {
    id: view.id,
    term: knowledge.disorders[view.id]?.term ?? view.id,
    band: words.bands[view.band] ?? view.band,
    leads: words.draws[drawsWord(view.leads)] ?? "",
    base: signed(words, view.base),
    for: view.for.slice(0, most).map((r) => reasonFacts(words, r, sources)),
    against: view.against.slice(0, most).map((r) => reasonFacts(words, r, sources)),
  };
}

export function reasoningFacts(
  words: Words,
  knowledge: Knowledge,
  visit: Visit,
  measures: Measures,
  interpretation: Interpretation,
  sources: SourceList,
): ReasoningFacts {
  const term = (id: DisorderId) => knowledge.disorders[id]?.term ?? id;
  const finding = (id: FindingId) => knowledge.findings[id]?.term ?? id;
  const recorded = new Set(heldImpressions(visit).map((i) => i.disorder));
  const withBand = (band: string, leaveOut: ReadonlySet<string> = new Set()) =>
    interpretation.disorders.filter((d) => d.band === band && !leaveOut.has(d.id)).map((d) => term(d.id));
  const result = (met: boolean | null) => words.phrases[metWord(met)] ?? "";
  return {
    // What the clinician recorded is always argued out, however the evidence stands.
    leading: interpretation.disorders
      .filter(
        (d, i) =>
          recorded.has(d.id) || (i < MOST_DISORDERS && d.band !== "unlikely" && d.band !== "not assessable"),
      )
      .map((d) => disorderFacts(words, knowledge, d, sources)),
    unlikely: withBand("unlikely", recorded),
    notAssessable: withBand("not assessable"),
    second: interpretation.second
      ? {
          term: term(interpretation.second.id),
          explains: interpretation.second.explains.map(finding),
          why: interpretation.second.why,
        }
      : null,
    bySite: interpretation.sites.map((s) => ({
      site: words.regions[s.site] ?? s.site,
      leading: s.leading.map((l) => `${term(l.id)} (${words.bands[l.band] ?? l.band})`),
    })),
    activity: interpretation.activity.map((a) => ({
      term: term(a.disorder),
      state: words.states[a.state] ?? a.state,
      stage: a.stage ?? "",
      says: a.says.map((sentence) => withDates(words, sentence)),
    })),
    mustNotMiss: interpretation.mustNotMiss.map((m) => {
      const caution = knowledge.cautions[m.caution];
      const { why, who } = caution?.must_not_miss ?? m;
      const answered = m.closedBy !== null;
      return { name: caution?.term ?? m.id, why, urgency: words.urgency[m.urgency], who, answered };
    }),
    askedFor: interpretation.askedFor.map((a) => {
      const { question = a.question, called_for: called } = knowledge.facts[a.id] ?? {};
      const why = a.named ? fill(words.named_in_passing, { words: a.named }) : (called?.why ?? a.why);
      return { question, urgency: words.urgency[a.urgency], why };
    }),
    lookNext: interpretation.lookNext.map((l) => ({
      says: l.says,
      separates: l.separates.map(term),
      bits: writeNumber(words, l.bits, 2),
    })),
    agreement: {
      verdict: interpretation.agreement.verdict,
      word: words.verdicts[interpretation.agreement.verdict] ?? interpretation.agreement.verdict,
      why: interpretation.agreement.why,
    },
    notAssessed: interpretation.notAssessed.map(finding),
    assessedShare: `${writeNumber(words, interpretation.assessedShare * 100)}\u00a0%`,
    rules: measures.rules.map((r) => ({
      term: r.site ? `${r.term}, ${words.regions[r.site] ?? r.site}` : r.term,
      result: result(r.met),
      criteria: r.criteria.map((c) => ({ says: c.says, result: result(c.met), worked: c.worked })),
      says: r.says,
      limits: r.limits ?? "",
      source: `${sources.cite(r.source)}${r.fromMemory ? `, ${words.phrases.memory_mark}` : ""}`,
    })),
    notes: interpretation.notes.map((n) => {
      const on = n.finding ? `${capital(finding(n.finding))}: ` : "";
      return `${on}${n.says.replace(/\.$/u, "")} [${sources.cite(n.source)}]`;
    }),
    accepted: visit.accept.map((a) => ({ id: a.id, reason: a.reason })),
  };
}

/** ISO dates within a sentence, in words. */
function withDates(words: Words, sentence: string): string {
  return sentence.replace(/\b\d{4}-\d{2}-\d{2}\b/gu, (iso) => writeDate(words, iso));
}

/** What rounds to nothing is not said. */
const SAID_OF_CASES = 0.05;

function reasonFacts(words: Words, r: Reason, sources: SourceList): ReasonFacts {
  const factor = Math.exp(Math.abs(r.weight));
  const percent = (x: number) => writeNumber(words, x * 100);
  const f = r.frequency;
  const cases = Math.abs(r.fromCases ?? 0) < SAID_OF_CASES ? "" : signed(words, r.fromCases ?? 0);
  return {
    says: r.says,
    site: r.site ? (words.regions[r.site] ?? r.site) : "",
    weight: signed(words, r.weight),
    factor: `${r.weight >= 0 ? "×" : "÷"}${writeNumber(words, factor, factor < 10 ? 1 : 0)}`,
    frequency: f
      ? fill(words.phrases.frequency ?? "", {
          mean: percent(f.mean),
          low: percent(f.low),
          high: percent(f.high),
          basis: cases ? `${f.basis}; ${fill(words.phrases.from_cases ?? "", { weight: cases })}` : f.basis,
        })
      : "",
    source: sources.cite(r.source),
  };
}

function signed(words: Words, value: number): string {
  return `${value > 0 ? "+" : ""}${writeNumber(words, value, 1)}`;
}
