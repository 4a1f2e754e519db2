/** Scores and draws -> bands in words. A band is never a diagnosis and never a bare percentage. */
import type { Knowledge } from "../knowledge/schema.js";
import { BANDS, type Band, type Reason } from "./interpretation.js";
import { scarringSign } from "./picture.js";
import type { Ranking } from "./sampling.js";
import type { SecondDisorder } from "./second.js";
import { entryWeight, type Weighed } from "./weigh.js";

/** What holds bands back: per disorder how far it is ahead of a healthy scalp, and whether a strong sign stands unexplained. */
export interface Held {
  readonly ahead: readonly number[];
  readonly back: boolean;
}

/** Something seen or tested that speaks for the disorder; history and what was looked for and not seen are none. */
function isGround(r: Reason): boolean {
  return r.weight > 0 && !isHistory(r) && r.state !== "absent";
}

function isHistory(r: Reason): boolean {
  return r.kind === "context" || r.examined === false;
}

/** How many scarring disorders stay at least possible while a scarring sign stands. */
const SCARRING_KEPT = 2;

/** One band per disorder, in the order of the cells. */
export function bandsOf(
  weighed: Weighed,
  drawn: Ranking,
  reasons: readonly (readonly Reason[])[],
  leading: number,
  second: SecondDisorder | undefined,
  held: Held,
  knowledge: Knowledge,
): Band[] {
  const { disorders } = weighed.cells;
  const limits = knowledge.weighing.bands;
  const secondAt = second ? disorders.indexOf(second.id) : -1;
  const clearly = second !== undefined && second.gain + second.apart >= limits.second_clearly;
  const bands = disorders.map((_, d): Band => {
    if (!hasRelevantEvidence(weighed, d)) return "not assessable";
    const share = drawn.share[d] ?? 0;
    // A first and a clear second disorder stand together and do not count against each other.
    const beside = d === leading && secondAt >= 0 && clearly ? (drawn.share[secondAt] ?? 0) : 0;
    const odds = share / Math.max(1e-9, 1 - share - beside);
    const leads = (drawn.leads[d] ?? 0) + (beside > 0 ? (drawn.leads[secondAt] ?? 0) : 0);
    const grounds = (reasons[d] ?? []).filter(isGround);
    const typical = grounds.filter((r) => (r.frequency?.mean ?? 1) >= limits.grounds.typical);
    const tested = typical.some((r) => r.kind === "test");
    const grounded =
      (typical.length >= 2 || tested) &&
      typical.reduce((sum, r) => sum + r.weight, 0) >= limits.grounds.weight &&
      (held.ahead[d] ?? 0) >= limits.grounds.ahead &&
      !(d === leading && held.back) &&
      listing(weighed.scores[d] ?? 0, reasons[d] ?? [], leads, limits.listed) >= limits.listed.least;
    if (
      grounded &&
      odds >= limits.strongly.odds &&
      leads >= limits.strongly.leads &&
      typical.some((r) => r.weight >= limits.strongly.carrier_weight)
    ) {
      return "strongly supported";
    }
    if (grounded && odds >= limits.supported.odds && leads >= limits.supported.leads) return "supported";
    const seen = (reasons[d] ?? []).reduce((sum, r) => (isHistory(r) ? sum : sum + r.weight), 0);
    const least = seen > 0 ? limits.possible.share_with_grounds : limits.possible.share;
    return grounds.length > 0 && share >= least ? "possible" : "unlikely";
  });
  if (secondAt >= 0) {
    bands[secondAt] = betterOf(bands[secondAt] ?? "unlikely", clearly ? "supported" : "possible");
  }
  keepScarring(bands, weighed, knowledge);
  // What leads is never called less likely than what follows it.
  if (bands[leading] === "unlikely") bands[leading] = "possible";
  return bands;
}

/** Fewer draws than one in fifty, for or against, say no more than that. */
const DRAWS_SAY = 0.02;

/** How well the whole fits the disorder itself, and not only better than its neighbours; natural-log units. */
function listing(
  total: number,
  reasons: readonly Reason[],
  leads: number,
  limits: Knowledge["weighing"]["bands"]["listed"],
): number {
  const against = reasons.reduce((sum, r) => sum + Math.min(0, r.weight), 0);
  const share = Math.min(1 - DRAWS_SAY, Math.max(DRAWS_SAY, leads));
  return total + limits.against * against + limits.draws * Math.log(share / (1 - share));
}

/** While a scarring sign stands, the best scarring disorders are never called unlikely. */
function keepScarring(bands: Band[], weighed: Weighed, knowledge: Knowledge): void {
  if (
    !scarringSign(
      weighed.entries.map((e) => e.entry),
      knowledge,
    )
  ) {
    return;
  }
  const scarring = weighed.cells.disorders
    .map((id, d) => ({ d, family: knowledge.disorders[id]?.family, score: weighed.scores[d] ?? 0 }))
    .filter((x) => x.family === "scarring")
    .sort((x, y) => y.score - x.score);
  const top = scarring[0]?.score ?? 0;
  scarring.forEach(({ d, score }, i) => {
    if (i < SCARRING_KEPT || top - score <= knowledge.weighing.bands.scarring_behind) {
      bands[d] = betterOf(bands[d] ?? "unlikely", "possible");
    }
  });
}

/** Finding weights smaller than the first say nothing of a disorder; a total beyond the second speaks even where no study does. */
const SAYS_SOMETHING = 0.1;
const SPEAKS_WITHOUT_STUDY = 1;

/** The best few are always judged once any finding was recorded: history alone may have brought them there. */
const ALWAYS_JUDGED = 3;

/** Something that bears on the disorder was assessed: a finding some study reports in it, a pattern, a rule or a test. */
export function hasRelevantEvidence(weighed: Weighed, d: number): boolean {
  const id = weighed.cells.disorders[d];
  if (weighed.lines.some((l) => l.disorder === id && l.kind !== "context")) return true;
  const better = weighed.scores.filter((s) => s > (weighed.scores[d] ?? 0)).length;
  if (weighed.entries.length > 0 && better < ALWAYS_JUDGED) return true;
  let total = 0;
  for (const e of weighed.entries) {
    const weight = entryWeight(e, d);
    if (e.row.cells[d]?.byDefault === false && Math.abs(weight) >= SAYS_SOMETHING) return true;
    total += weight;
  }
  return Math.abs(total) >= SPEAKS_WITHOUT_STUDY;
}

/**
 * Where a healthy scalp explains the picture about as well as the leader, the leader is possible at most, and that only while it is
 * ahead at all; nothing else stands that is not clearly ahead.
 */
export function cappedByHealthy(bands: readonly Band[], leading: number, held: Held, within: number): Band[] {
  return bands.map((band, d) => {
    if (band === "not assessable" || (held.ahead[d] ?? 0) > within) return band;
    return d === leading && (held.ahead[d] ?? 0) > 0 ? "possible" : "unlikely";
  });
}

function betterOf(x: Band, y: Band): Band {
  return BANDS.indexOf(x) <= BANDS.indexOf(y) ? x : y;
}
