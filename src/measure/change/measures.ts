/** One measure at two visits: its change with limits, and whether that is more than counting error. */
import { z } from "zod";
import type { Knowledge } from "../../knowledge/schema.js";
import type { Visit } from "../../visit/visit.js";
import { countsOf, RATIO_METHODS, shareMethod } from "../drafts.js";
import { sameFieldOfView } from "../fields.js";
import { welch } from "../statistics/means.js";
import { shareDifference } from "../statistics/proportions.js";
import {
  LEAST_FREEDOM,
  publishedTimes,
  type Spread,
  spreadOf,
  spreadOfMeans,
  spreadOfShares,
  spreadSchema,
  studentFactor,
} from "../statistics/spread.js";
import { fieldsForDifference, fieldsNeeded, rateRatio, smallestFall } from "../statistics/two-counts.js";
import type { Counted, CountSpread, Measured, Measures } from "../types.js";
import type { MeasureChange, NotCompared, Point, Verdict } from "./types.js";

const comparisonSchema = z.object({
  source: z.string(),
  worth_seeing: z.strictObject({
    basis: z.string(),
    rate_factor: z.number().gt(0).lt(1),
    share_points: z.number().gt(0),
    mean_percent: z.number().gt(0),
  }),
  power: z.number().gt(0).lt(1),
  counted_findings: spreadSchema,
  few_fields: z.string(),
  few_fields_of_shares: z.strictObject({ fields: z.number().int().min(2), says: z.string() }),
  scale_differs: z.string(),
  recount: z.strictObject({
    under_percent: z.number(),
    says: z.string(),
    source: z.string(),
    how: z.string(),
  }),
});
export type Comparison = z.infer<typeof comparisonSchema>;

/** How visits are compared. Throws when the shipped file is missing or does not fit. */
export function readComparison(knowledge: Knowledge): Comparison {
  return comparisonSchema.parse(knowledge.scores.comparison);
}

interface Numbered {
  readonly key: string;
  readonly nth: number;
  readonly measured: Measured;
}

/** Measures with a key that finds the same one at another visit: id, region, and which site of that region. */
export function keyedByOccurrence(measures: Measures): readonly Numbered[] {
  const counts = new Map<string, number>();
  return measures.measured.map((measured) => {
    const place = `${measured.id}@${measured.site ?? ""}`;
    const nth = counts.get(place) ?? 0;
    counts.set(place, nth + 1);
    return { key: `${place}#${nth}`, nth, measured };
  });
}

interface Measuring {
  readonly visit: Visit;
  readonly measures: Measures;
}

/** Every measure made at both visits compared; those made at one only, or not comparable, listed with the reason. */
export function compareMeasures(
  before: Measuring,
  after: Measuring,
  comparison: Comparison,
): { readonly changes: readonly MeasureChange[]; readonly notCompared: readonly NotCompared[] } {
  const earlier = new Map(keyedByOccurrence(before.measures).map((n) => [n.key, n]));
  const changes: MeasureChange[] = [];
  const notCompared: NotCompared[] = [];
  const leave = ({ nth, measured: { id, term, site } }: Numbered, reason: Pick<NotCompared, "why" | "on">) =>
    notCompared.push({ id, term, ...(site ? { site } : {}), nth, ...reason });
  const sameField = sameFieldOfView(before.visit, after.visit);
  for (const now of keyedByOccurrence(after.measures)) {
    const then = earlier.get(now.key);
    earlier.delete(now.key);
    if (!then) leave(now, { why: "not measured", on: before.visit.date });
    else if (ON_FIELDS.test(now.measured.unit) && !sameField) leave(now, { why: "field of view differs" });
    else if (then.measured.unit !== now.measured.unit) leave(now, { why: "measured otherwise" });
    else if (now.measured.id !== "field-area")
      changes.push(compareOne(then, now, before.visit, after.visit, comparison, sameField));
  }
  for (const then of earlier.values()) leave(then, { why: "not measured", on: after.visit.date });
  return { changes, notCompared };
}

/** Units of what is counted on whole fields of view. */
const ON_FIELDS = /^(per field|in \d+ fields)$/u;
/** Units of what is measured by the scale of the picture. */
const SCALED = ["/cm²", "µm"];

function compareOne(
  then: Numbered,
  now: Numbered,
  visitThen: Visit,
  visitNow: Visit,
  comparison: Comparison,
  sameField: boolean,
): MeasureChange {
  const [a, b] = [then.measured, now.measured];
  const difference = b.value - a.value;
  const worked =
    a.counted && b.counted ? compareCounted(a.counted, b.counted, b.unit, comparison) : undefined;
  const direction = difference > 0 ? "up" : difference < 0 ? "down" : "same";
  const verdict = worked?.verdict ?? null;
  const percent = a.value === 0 ? undefined : (100 * difference) / a.value;
  const small =
    b.counted?.kind === "rate" &&
    verdict === "more than counting error" &&
    percent !== undefined &&
    Math.abs(percent) < comparison.recount.under_percent;
  const recorded = (v: Visit) => v.sites.filter((s) => s.site === b.site).length;
  const notes = [
    ...(small ? [comparison.recount.says] : []),
    ...(worked?.spread === "published" ? [comparison.few_fields] : []),
    ...(verdict === "too few fields to tell" ? [comparison.few_fields_of_shares.says] : []),
    // A scale that is off by as much at both visits cancels; two scales do not.
    ...(!sameField && SCALED.includes(b.unit) ? [comparison.scale_differs] : []),
    ...(b.siteIndex !== undefined && recorded(visitThen) !== recorded(visitNow)
      ? [
          "The region holds a different number of sites at the two visits; check that they are the same place.",
        ]
      : []),
  ];
  const { effect, p, spread, smallest, needed } = worked ?? {};
  return {
    id: b.id,
    term: b.term,
    ...(b.site ? { site: b.site } : {}),
    nth: now.nth,
    unit: b.unit,
    ucum: b.ucum,
    places: b.places,
    before: point(a, visitThen),
    after: point(b, visitNow),
    difference,
    // A percentage that falls from 40 to 30 falls by 10 points, not by 10 percent.
    // Steps of a grade, or signs, go without the whole they are out of.
    differenceUnit: b.unit === "%" ? "points" : b.unit.startsWith("of ") ? "" : b.unit,
    direction,
    ...(effect ? { effect } : {}),
    ...(p === undefined ? {} : { p }),
    ...(spread ? { spread } : {}),
    ...(smallest === undefined ? {} : { smallest }),
    verdict,
    says: sentence(a, b, verdict),
    ...(notes.length > 0 ? { notes } : {}),
    ...(needed ? { needed } : {}),
    source: worked ? comparison.source : b.source,
    fromMemory: a.fromMemory || b.fromMemory,
  };
}

function point(m: Measured, visit: Visit): Point {
  return {
    visit: visit.id,
    date: visit.date,
    value: m.value,
    ...(m.low === undefined ? {} : { low: m.low }),
    ...(m.high === undefined ? {} : { high: m.high }),
    ...(m.n === undefined ? {} : { n: m.n }),
  };
}

function sentence(a: Measured, b: Measured, verdict: Verdict | null): string {
  const figure = (m: Measured) => `${m.value.toFixed(m.places)}${m.unit ? ` ${m.unit}` : ""}`;
  const change = `${b.term} ${figure(a)}, then ${figure(b)}`;
  return verdict ? `${change}: ${verdict}.` : `${change}.`;
}

type Compared = Pick<MeasureChange, "effect" | "p" | "spread" | "smallest" | "needed"> & {
  readonly verdict: Verdict;
};

function compareCounted(a: Counted, b: Counted, unit: string, c: Comparison): Compared | undefined {
  if (a.kind === "rate" && b.kind === "rate") return compareRates(a, b, c);
  const { fields } = c.few_fields_of_shares;
  if (a.kind === "share" && b.kind === "share") {
    const told = spreadOfShares([a.each ?? [], b.each ?? []]);
    const { times, from } = told;
    if (a.each && b.each && from === "none" && !allAlike(a, b))
      return { spread: from, verdict: "too few fields to tell", needed: { fields } };
    const d = shareDifference(a.part, a.of, b.part, b.of, times);
    const effect = {
      value: 100 * d.value,
      low: 100 * d.low,
      high: 100 * d.high,
      unit: "points",
      method: shareMethod("score limits of a difference of shares", from),
    };
    const verdict = verdictOf(effect, c.worth_seeing.share_points);
    const needed = verdict === "too little counted to tell" ? fieldsForPoints(a, b, told, c) : undefined;
    return { effect, p: d.p, spread: from, verdict, ...(needed ? { needed } : {}) };
  }
  if (a.kind === "mean" && b.kind === "mean") {
    const { times, from } = spreadOfMeans([a, b].map(({ each = [], sd }) => ({ each, sd })));
    if (a.each && b.each && from === "none")
      return { spread: from, verdict: "too few fields to tell", needed: { fields } };
    const w = welch(a, b, times);
    if (!w) return { verdict: "too little counted to tell" };
    const method = shareMethod("Welch limits", from);
    const effect = { value: w.difference, low: w.low, high: w.high, unit, method };
    return {
      effect,
      p: w.p,
      ...(a.each ? { spread: from } : {}),
      verdict: verdictOf(effect, (c.worth_seeing.mean_percent / 100) * a.mean),
    };
  }
  if (a.kind === "reading" && b.kind === "reading") {
    // Decimals such as 6.9 - 6.4 carry specks in binary; nothing finer than a millionth is meant.
    const size = Number(Math.abs(b.value - a.value).toFixed(6));
    return { verdict: size >= b.realFrom ? "more than measuring error" : "within measuring error" };
  }
  return undefined;
}

type Share = Counted & { readonly kind: "share" };

/** Fields at both visits that all hold the one kind, or none of it, agree as far as they can. */
function allAlike(a: Share, b: Share): boolean {
  const [part, of] = [a.part + b.part, a.of + b.of];
  return (part === 0 || part === of) && (a.each?.length ?? 0) + (b.each?.length ?? 0) - 2 >= LEAST_FREEDOM;
}

/** Fields of these at each visit that would show a change of the size worth seeing, by the spread the fields told. */
function fieldsForPoints(
  a: Share,
  b: Share,
  { times, freedom }: Spread,
  { worth_seeing: { share_points }, power }: Comparison,
): MeasureChange["needed"] {
  if (freedom === undefined) return undefined;
  const share = (a.part + b.part) / (a.of + b.of);
  const perField = (a.of + b.of) / ((a.each?.length ?? 0) + (b.each?.length ?? 0));
  const own = times / studentFactor(freedom);
  const fields = fieldsForDifference(
    share_points / 100,
    (n) => (2 * own * studentFactor(2 * (n - 1)) * share * (1 - share)) / (n * perField),
    power,
  );
  return fields === undefined ? undefined : { points: share_points, fields };
}

function verdictOf({ low, high }: { low: number; high: number }, worth: number): Verdict {
  if (low > 0 || high < 0) return "more than counting error";
  return low > -worth && high < worth ? "within counting error" : "too little counted to tell";
}

function compareRates(
  a: Counted & { kind: "rate" },
  b: Counted & { kind: "rate" },
  { worth_seeing: { rate_factor }, power }: Comparison,
): Compared {
  const { times, from } = spreadOf([countsOf(a), countsOf(b)], b.published);
  const r = rateRatio(b.count, b.exposure, a.count, a.exposure, times);
  const verdict =
    r && (r.low > 1 || r.high < 1)
      ? "more than counting error"
      : r && r.low > rate_factor && r.high < 1 / rate_factor
        ? "within counting error"
        : "too little counted to tell";
  const perField = (a.count + b.count) / (a.fields + b.fields);
  const smallest =
    perField > 0 ? smallestFall({ perField, fields: Math.min(a.fields, b.fields), times }, power) : undefined;
  const fields =
    verdict === "too little counted to tell"
      ? fieldsNeeded(perField, rate_factor, spreadOfPlan(perField, b), power)
      : undefined;
  const common = {
    verdict,
    spread: from,
    ...(smallest === undefined ? {} : { smallest }),
    ...(fields === undefined ? {} : { needed: { factor: rate_factor, fields } }),
  } as const;
  if (!r) return common;
  // Against a first count of 0 a change in percent has no value; the test still has.
  if (a.count === 0) return { p: r.p, ...common };
  return {
    effect: {
      value: 100 * (r.ratio - 1),
      low: 100 * (r.low - 1),
      high: Number.isFinite(r.high) ? 100 * (r.high - 1) : null,
      unit: "%",
      method: RATIO_METHODS[from],
    },
    p: r.p,
    ...common,
  };
}

/** Variance over mean for so many fields at each visit, by published spread, with the point of Student's t those fields will give. */
function spreadOfPlan(perField: number, { published }: CountSpread): (fields: number) => number {
  const times = published ? publishedTimes(perField, published) : 1;
  return (fields) => times * Math.min(fields, studentFactor(2 * (fields - 1)));
}

/**
 * Fields of view needed at each of two visits to see a change of the size worth seeing in this measure, for a measure
 * that is a count over fields; undefined otherwise, or when nothing was counted or more than 200 would be needed.
 */
export function fieldsToSeeChange(
  measured: Measured,
  knowledge: Knowledge,
): { readonly factor: number; readonly fields: number } | undefined {
  const { counted } = measured;
  if (counted?.kind !== "rate") return undefined;
  const { worth_seeing, power } = readComparison(knowledge);
  const perField = counted.count / counted.fields;
  const fields = fieldsNeeded(perField, worth_seeing.rate_factor, spreadOfPlan(perField, counted), power);
  return fields === undefined ? undefined : { factor: worth_seeing.rate_factor, fields };
}
