/**
 * Visit and measures -> what the findings support, with reasons. For the clinician only: it helps to think and never diagnoses.
 * Pure and deterministic; the draws are seeded by what is drawn, so a visit's result hangs on nothing but its content.
 */
import type { DisorderId } from "../base/ids.js";
import { withCapital } from "../base/text.js";
import type { Condition } from "../knowledge/condition.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Measures } from "../measure/types.js";
import type { Visit } from "../visit/visit.js";
import { activityOf } from "./activity.js";
import { agreementOf } from "./agreement.js";
import { coverage } from "./assessed.js";
import { bandsOf, cappedByHealthy, hasRelevantEvidence } from "./bands.js";
import { askedFor, cautionsOf, mustNotMiss } from "./cautions.js";
import { holds, stateOf } from "./conditions.js";
import { type Facts, factsAt, factsOf, withBands } from "./facts.js";
import { besideHealthy } from "./healthy.js";
import type { Band, DisorderView, Interpretation, SiteView } from "./interpretation.js";
import { type Candidate, lookNext } from "./look-next.js";
import { pictureOf } from "./picture.js";
import { reasonsFor, round } from "./reasons.js";
import { rankingOf, shares } from "./sampling.js";
import { type SecondDisorder, secondDisorder } from "./second.js";
import { unexplainedBy } from "./unexplained.js";
import { type Ablation, foundFor, type Weighed, weigh } from "./weigh.js";

export { agreementProblems } from "./agreement.js";
export { explainJson } from "./explain-json.js";
export type * from "./interpretation.js";
export { drawsWord } from "./interpretation.js";
export type { Ablation } from "./weigh.js";

export interface InterpretOptions {
  /** An earlier visit of the same patient, for the way things go. */
  readonly previous?: Visit;
  readonly ablate?: Ablation;
}

const NO_MEASURES: Measures = { measured: [], notMeasured: [], rules: [] };
const MOST_CANDIDATES = 5;
const CANDIDATE_SHARE = 0.02;
const MOST_NOTES = 6;
/** Sites are read without draws; a disorder leads one when it is this far ahead there, natural-log units. */
const SITE_AHEAD = 2;

/** Visits in which nothing that wounds is worth offering, as long as no must-not-miss line stands. */
const SETTLED: Condition = {
  any: [
    { impression: "family:healthy" },
    {
      all: [
        { shedding: "normal" },
        { any: [{ course: "improving" }, { not: { fact: "complaint-of-loss" } }] },
      ],
    },
  ],
};

/** Weighs every disorder of the knowledge on one visit. */
export function interpret(
  visit: Visit,
  measures: Measures,
  knowledge: Knowledge,
  options: InterpretOptions = {},
): Interpretation {
  const facts = factsOf(visit, measures, knowledge);
  const picture = pictureOf(facts, visit.sites);
  const weighed = weigh(facts, picture, options.ablate);
  const drawn = rankingOf(weighed, knowledge);
  const order = inOrder(weighed);
  const leading = order.find((d) => hasRelevantEvidence(weighed, d)) ?? -1;
  const reasons = weighed.cells.disorders.map((_, d) => reasonsFor(weighed, d, knowledge));
  const sites = readSites(facts, options.ablate);
  const found = sites.map((s) => ({ site: s.site.site, found: s.found }));
  const second =
    leading >= 0 && picture.length > 0 ? secondDisorder(weighed, leading, found, knowledge) : undefined;
  const unexplained = unexplainedBy(weighed, leading, second?.explains ?? [], knowledge);
  const healthy = besideHealthy(facts, weighed, leading, mustNotMiss(facts).length > 0);
  const held = { ahead: healthy.ahead, back: unexplained.holdsBack };
  const uncapped = bandsOf(weighed, drawn, reasons, leading, second, held, knowledge);
  const { within } = knowledge.weighing.healthy;
  const bands = healthy.comparable ? cappedByHealthy(uncapped, leading, held, within) : uncapped;
  const disorders = order
    .map(
      (d): DisorderView => ({
        id: weighed.cells.disorders[d] ?? "",
        band: bands[d] ?? "not assessable",
        leads: round(drawn.leads[d] ?? 0),
        score: round(weighed.scores[d] ?? 0),
        for: (reasons[d] ?? []).filter((r) => r.weight > 0),
        against: (reasons[d] ?? []).filter((r) => r.weight < 0),
        base: weighed.base[d] ?? 0,
      }),
    )
    // What was not assessed at all stands last, whatever its history-only score.
    .sort((x, y) => Number(x.band === "not assessable") - Number(y.band === "not assessable"));
  // What healthy scalps show as well raises no alarm by its band; scarring that leads raises one even where it is only possible.
  const raising = disorders.map((d, i): [string, Band] => {
    if (healthy.comparable) return [d.id, "unlikely"];
    const scars = i === 0 && d.band === "possible" && knowledge.disorders[d.id]?.family === "scarring";
    return [d.id, scars && !healthy.quiet ? "supported" : d.band];
  });
  const banded = withBands(facts, Object.fromEntries(raising));
  const candidates = candidatesOf(weighed, drawn.share);
  const covered = coverage(weighed, candidates.slice(0, 4), knowledge);
  const before = options.previous ? factsOf(options.previous, NO_MEASURES, knowledge) : undefined;
  const clear = disorders[0]?.band === "supported" || disorders[0]?.band === "strongly supported";
  const nothingSeen = picture.every((e) => e.state === "absent");
  const open = mustNotMiss(banded);
  const settled = open.length === 0 && holds(SETTLED, facts);
  const quiet = open.length === 0 && (healthy.comparable || holds({ impression: "family:healthy" }, facts));
  const calm = healthy.quiet || (healthy.calm && open.length === 0);
  const spare = quiet ? "tests" : nothingSeen || settled || (calm && !clear) ? "wounds" : "nothing";
  const beside = {
    second: second?.id,
    healthy,
    assessedShare: covered.assessedShare,
    recorded: picture.length,
    open,
  };
  const spoken = spokenOf(visit, disorders, second?.id);
  return {
    visit: visit.id,
    disorders,
    ...(second ? { second: secondView(second, disorders[0], knowledge) } : {}),
    unexplained: unexplained.ids,
    healthy: { comparable: healthy.comparable, why: healthy.why },
    sites: siteViews(sites),
    activity: spoken.flatMap((id) => {
      const disorder = knowledge.disorders[id];
      return disorder && disorder.family !== "healthy" ? [activityOf(disorder, banded, before)] : [];
    }),
    mustNotMiss: open,
    askedFor: askedFor(banded),
    readFromWords: facts.reads(),
    lookNext: lookNext(facts, weighed, candidates, spare),
    agreement: agreementOf(visit, disorders, beside, knowledge),
    notAssessed: covered.notAssessed,
    assessedShare: covered.assessedShare,
    cautions: cautionsOf(banded),
    notes: notesOf(spoken, banded),
  };
}

/** Disorder numbers, best score first; equal scores in order of id. */
function inOrder(weighed: Weighed): number[] {
  return weighed.cells.disorders
    .map((_, d) => d)
    .sort((x, y) => (weighed.scores[y] ?? 0) - (weighed.scores[x] ?? 0) || x - y);
}

function candidatesOf(weighed: Weighed, share: readonly number[]): Candidate[] {
  const chosen = inOrder(weighed)
    .filter((d, i) => i < 2 || (share[d] ?? 0) >= CANDIDATE_SHARE)
    .slice(0, MOST_CANDIDATES);
  const total = chosen.reduce((sum, d) => sum + (share[d] ?? 0), 0);
  return chosen.map((d) => ({
    d,
    id: weighed.cells.disorders[d] ?? "",
    share: total > 0 ? (share[d] ?? 0) / total : 1 / chosen.length,
  }));
}

/**
 * Leading, second and recorded disorders, each once: those of which activity and pitfalls are said. Of one that the clinician has
 * excluded nothing is said here; that the evidence disagrees is said by the agreement.
 */
function spokenOf(visit: Visit, disorders: readonly DisorderView[], second: string | undefined): string[] {
  const first = disorders[0];
  const leading = first && first.band !== "unlikely" && first.band !== "not assessable" ? [first.id] : [];
  const held = (excluded: boolean) =>
    visit.impression.filter((i) => (i.certainty === "excluded") === excluded).map((i) => i.disorder);
  const excluded = held(true);
  return [...new Set([...leading, ...(second ? [second] : []), ...held(false)])].filter(
    (id) => !excluded.includes(id),
  );
}

function secondView(
  second: SecondDisorder,
  first: DisorderView | undefined,
  knowledge: Knowledge,
): NonNullable<Interpretation["second"]> {
  const term = (id: DisorderId) => knowledge.disorders[id]?.term ?? id;
  const words = second.explains.map((id) => knowledge.findings[id]?.term ?? id.replaceAll("-", " "));
  const { places } = second;
  const apart = places
    ? `The ${places.first} speaks for ${term(first?.id ?? "")}, the ${places.second} for ${term(second.id)}. `
    : "";
  const why = `${apart}${withCapital(term(second.id))} beside ${term(first?.id ?? "")} would explain ${words.join(", ")}.`;
  return { id: second.id, question: true, explains: second.explains, why };
}

interface SiteRead {
  readonly site: Visit["sites"][number];
  readonly weighed?: Weighed;
  /** Findings, patterns and rules of the site by disorder, without history and starting weights; zeros when nothing is present. */
  readonly found: readonly number[];
}

/** Each site read alone, without draws. */
function readSites(whole: Facts, ablate?: Ablation): SiteRead[] {
  return whole.visit.sites.map((site) => {
    const facts = factsAt(whole, site);
    const picture = pictureOf(facts, [site]);
    if (!picture.some((e) => e.state === "present")) return { site, found: [] };
    const weighed = weigh(facts, picture, ablate, 0);
    return { site, weighed, found: weighed.cells.disorders.map((_, d) => foundFor(weighed, d)) };
  });
}

/** The best disorders of each site with a band no stronger than supported. */
function siteViews(sites: readonly SiteRead[]): SiteView[] {
  return sites.map(({ site, weighed }, index) => {
    if (!weighed) return { site: site.site, index, leading: [] };
    const share = shares(weighed.scores);
    const [best = 0, ...others] = inOrder(weighed);
    const ahead = (weighed.scores[best] ?? 0) - (weighed.scores[others[0] ?? best] ?? 0);
    // One that is so far ahead leaves less to every other, and is alone.
    const close = [best, ...others].filter((d) => (share[d] ?? 0) >= 0.15).slice(0, 3);
    return {
      site: site.site,
      index,
      leading: close.map((d): { id: DisorderId; band: Band } => ({
        id: weighed.cells.disorders[d] ?? "",
        band: ahead >= SITE_AHEAD ? "supported" : "possible",
      })),
    };
  });
}

/** Pitfalls of the disorders spoken of that concern a finding recorded here. */
function notesOf(spoken: readonly string[], facts: Facts): Interpretation["notes"] {
  return spoken
    .flatMap((id) => facts.knowledge.disorders[id]?.pitfalls ?? [])
    .filter((p) => p.finding !== undefined && stateOf(p.finding, facts) !== "not assessed")
    .map(({ says, source, finding }) => ({ says, source, finding }))
    .slice(0, MOST_NOTES);
}
