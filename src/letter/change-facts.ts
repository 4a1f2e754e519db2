/** Change between visits in words: a short paragraph for the letter, one plain sentence for the handout, tables and charts for the progress sheet. */

import type { FindingId } from "../base/ids.js";
import { fill } from "../base/text.js";
import { trendChart } from "../diagram/diagram.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Change, FindingChange, MeasureChange, Series, Step } from "../measure/change/types.js";
import { changeSince, changeText, surestOnTop, worthTelling } from "./change-text.js";
import type { Drawing } from "./document.js";
import { measureName, measureText, type SourceList } from "./measurements.js";
import { onOneDecimal } from "./on-one-decimal.js";
import { type Words, wordIn, writeDate, writeNumber } from "./phrases.js";
import { metWord } from "./recorded-scores.js";
import type { LetterFacts } from "./variables.js";

export type ChangeFacts = NonNullable<LetterFacts["change"]>;
export type ProgressFacts = NonNullable<LetterFacts["progress"]>;

/** Nothing changed, or nothing can be said. */
const UNREMARKABLE = new Set(["same", "still absent", "not looked for again", "first looked for, not seen"]);
const MOST_CHARTS = 6;
/** Two values stand in the table; a chart begins where there is a course to see. */
const LEAST_POINTS = 3;

/** The last step of the change, in words. */
export function changeFacts(words: Words, knowledge: Knowledge, change: Change): ChangeFacts {
  const step = change.steps.at(-1) ?? change.overall;
  return {
    since: changeSince(words, step),
    text: changeText(words, knowledge, step),
    plain: plainSentence(words, step),
  };
}

/** Everything for the progress sheet; `drawings` receives the charts by name. */
export function progressFacts(
  words: Words,
  knowledge: Knowledge,
  change: Change,
  sources: SourceList,
  drawings: Record<string, Drawing>,
): ProgressFacts {
  const step = change.overall;
  const names = chartSeries(knowledge, change.series).map((series, i) => {
    const name = `chart:${i}`;
    drawings[name] = () => chart(words, series, scaleOf(series, change.series));
    return name;
  });
  const charts = names.flatMap((left, i) => (i % 2 === 0 ? [{ left, right: names[i + 1] ?? "" }] : []));
  const sites = unique(step.findings.map((f) => f.site ?? ""));
  const told = surestOnTop(worthTelling(knowledge, step.measures));
  const [before, now, changed] = [
    told.map((m) => point(words, m, m.before)),
    told.map((m) => point(words, m, m.after)),
    told.map((m) => (m.effect ? effect(words, m) : difference(words, m))),
  ].map(onOneDecimal);
  const facts: Omit<ProgressFacts, "sources"> = {
    visits: change.visits.map((v) => ({ id: v.visit, date: v.date })),
    from: step.from.date,
    to: step.to.date,
    charts,
    measures: told.map((m, i) => ({
      term: measureName(words, m.id, m.term),
      site: place(words, m.site),
      before: before?.[i] ?? "",
      now: now?.[i] ?? "",
      effect: changed?.[i] ?? "",
      verdict: m.verdict ? (words.change[m.verdict] ?? m.verdict) : (words.change.not_counted ?? ""),
      needed: needed(words, m),
      source: sources.cite(m.source),
    })),
    measureNotes: unique(
      worthTelling(knowledge, step.measures).flatMap((m) =>
        (m.notes ?? []).map((n) => measureText(words, n)),
      ),
    ),
    findings: sites.flatMap((site) => {
      const changes = step.findings
        .filter((f) => (f.site ?? "") === site && !UNREMARKABLE.has(f.kind))
        .map((f) => `${term(knowledge, f.finding)}: ${findingChange(words, f)}`);
      return changes.length > 0 ? [{ site: place(words, site), changes }] : [];
    }),
    // Where no threshold can be judged, the score stands among the measures and that is all.
    responses: step.responses
      .filter((r) => r.thresholds.some((t) => t.met !== null))
      .map((r) => ({
        term: measureName(words, r.id, step.measures.find((m) => m.id === r.id)?.term ?? r.id),
        says: fill((r.percentFall === null ? words.change.response_from_zero : words.change.response) ?? "", {
          before: writeNumber(words, r.before, 1),
          after: writeNumber(words, r.after, 1),
          percent: writeNumber(words, Math.abs(r.percentFall ?? 0)),
          direction: ((r.percentFall ?? 0) >= 0 ? words.change.fall : words.change.rise) ?? "",
        }),
        thresholds: r.thresholds.map(
          (t) =>
            `${measureText(words, t.says)}: ${words.phrases[metWord(t.met)] ?? ""} [${sources.cite(r.source)}]`,
        ),
      })),
    activity: unique(
      step.activity.map(
        (a) =>
          `${a.says.replace(/\.$/u, "")}${a.site && sites.length > 1 ? ` (${place(words, a.site)})` : ""} [${sources.cite(a.source)}]`,
      ),
    ),
    notCompared: unique(
      step.notCompared.map(
        (n) =>
          `${measureName(words, n.id, n.term)}${n.site ? `, ${place(words, n.site)}` : ""}: ${fill(
            words.change[n.why] ?? "",
            { date: n.on ? writeDate(words, n.on) : "" },
          )}`,
      ),
    ),
  };
  return { ...facts, sources: sources.list() };
}

/** Calm, in plain words, and never a promise: what the markers of activity did. */
function plainSentence(words: Words, step: Step): string {
  const since = fill(words.change.plain_since ?? "", { date: writeDate(words, step.from.date) });
  const trend = (marks: string, way: string) =>
    step.activity.some((a) => a.marks === marks && a.trend === way);
  const key = trend("active", "towards")
    ? "plain_more_active"
    : trend("recovering", "towards")
      ? "plain_recovering"
      : trend("active", "away")
        ? "plain_less_active"
        : "plain_no_change";
  return `${since} ${words.change[key] ?? ""}`;
}

function findingChange(words: Words, f: FindingChange): string {
  const amount = (s: FindingChange["before"]) =>
    s.state === "present" ? (words.amounts[s.amount ?? "seen"] ?? "") : (words.change[s.state] ?? s.state);
  return fill(words.change.from_to ?? "", { before: amount(f.before), after: amount(f.after) });
}

function chartSeries(knowledge: Knowledge, all: readonly Series[]): Series[] {
  return worthTelling(knowledge, all)
    .filter((s) => s.points.length >= LEAST_POINTS)
    .slice(0, MOST_CHARTS);
}

/** Every value of the measure, at whatever site: charts of one measure share one scale. What is out of a whole stands on all of it. */
function scaleOf({ id, unit }: Series, all: readonly Series[]): number[] {
  const whole = /^of (\d+)$/u.exec(unit)?.[1];
  if (whole) return [0, Number(whole)];
  return all
    .filter((s) => s.id === id)
    .flatMap((s) => s.points.flatMap((p) => [p.value, p.low ?? p.value, p.high ?? p.value]));
}

function chart(words: Words, series: Series, scale: readonly number[]): string {
  const { normal } = series;
  const title = `${measureName(words, series.id, series.term)}${series.site ? `, ${place(words, series.site)}` : ""}`;
  return trendChart({
    title,
    unit: measureText(words, series.unit),
    scale,
    ...(normal
      ? {
          normal: {
            ...(normal.low === undefined ? {} : { low: normal.low }),
            ...(normal.high === undefined ? {} : { high: normal.high }),
            label: measureText(words, normal.group),
          },
        }
      : {}),
    points: series.points.map((p) => ({
      label: writeDate(words, p.date),
      date: p.date,
      value: Number(p.value.toFixed(series.places)),
      ...(p.low === undefined ? {} : { low: p.low }),
      ...(p.high === undefined ? {} : { high: p.high }),
    })),
    ...(words.charts ? { words: words.charts } : {}),
  }).svg;
}

function point(words: Words, m: MeasureChange, p: MeasureChange["before"]): string {
  const value = `${writeNumber(words, p.value, m.places)}${m.unit ? `\u00a0${measureText(words, m.unit)}` : ""}`;
  if (p.low === undefined || p.high === undefined) return value;
  return fill(words.phrases.interval ?? "", {
    value,
    low: writeNumber(words, p.low, m.places),
    high: writeNumber(words, p.high, m.places),
  });
}

function effect(words: Words, m: MeasureChange): string {
  const e = m.effect;
  if (!e) return "";
  const signed = (x: number) => `${x > 0 ? "+" : ""}${writeNumber(words, x, Math.abs(x) < 10 ? 1 : 0)}`;
  const high = e.high === null ? (words.change.no_upper_limit ?? "") : signed(e.high);
  return fill(words.phrases.interval ?? "", {
    value: `${signed(e.value)}\u00a0${words.change[e.unit] ?? e.unit}`,
    low: signed(e.low),
    high,
  });
}

function difference(words: Words, m: MeasureChange): string {
  const text = writeNumber(words, m.difference, m.places);
  const unit = wordIn(words.change, m.differenceUnit) ?? measureText(words, m.differenceUnit);
  return `${m.difference > 0 ? "+" : ""}${text}${unit ? `\u00a0${unit}` : ""}`;
}

/** What more fields would show, or the least that these do. */
function needed(words: Words, { needed, smallest, verdict }: MeasureChange): string {
  if (needed) {
    const { fields, factor, points } = needed;
    if (factor !== undefined)
      return fill(words.change.needed ?? "", { fields, percent: Math.round(Math.abs(factor - 1) * 100) });
    return fill(words.change[points === undefined ? "needed_fields" : "needed_points"] ?? "", {
      fields,
      points: points ?? 0,
    });
  }
  return smallest !== undefined && verdict === "within counting error"
    ? fill(words.change.smallest ?? "", { percent: smallest })
    : "";
}

function place(words: Words, site: string | undefined): string {
  return site ? (words.regions[site] ?? site) : "";
}

function term(knowledge: Knowledge, finding: FindingId): string {
  return knowledge.findings[finding]?.term ?? finding;
}

function unique<T>(items: readonly T[]): T[] {
  return [...new Set(items)];
}
