/** Disorder by finding: the pooled frequency, made once per knowledge and kind of patient. */

import jstat from "jstat";
import type { DisorderId, FactId, FindingId } from "../base/ids.js";
import type { EvidenceRow, Knowledge } from "../knowledge/schema.js";
import { holds } from "./conditions.js";
import type { Facts } from "./facts.js";
import { betaFromInterval, pool } from "./pooling.js";
import { chooseRows, type Profile } from "./rows.js";

/** How often a finding is to be expected in a disorder: Beta(a, b), with where it comes from. */
export interface Cell {
  readonly a: number;
  readonly b: number;
  readonly mean: number;
  /** True when no study reports the finding in the disorder and our own wide interval stands in. */
  readonly byDefault: boolean;
  readonly basis: string;
  /** Source ids joined by "; ". */
  readonly source: string;
}

export interface CellRow {
  /** Finding, reading and place, for seeding. */
  readonly id: string;
  readonly reading: Reading;
  readonly disorders: readonly DisorderId[];
  /** In the order of `disorders`, as all that follows. */
  readonly cells: readonly Cell[];
  readonly healthy: Cell;
  /** Average over disorders by how often they are met, healthy scalps included: what nothing in particular would lead to expect. */
  readonly average: number;
  /** How often to expect the finding in each disorder: the cell's mean drawn towards the average. */
  readonly frequencies: readonly number[];
  /** Of the weight in each disorder, what cases met before add to what studies say. */
  readonly lessons: readonly number[];
  /** What the finding, so read, weighs in each disorder before amount and share. */
  readonly weights: readonly number[];
}

export type Reading = "present" | "absent";

export interface Cells {
  readonly disorders: readonly DisorderId[];
  row(finding: FindingId, reading: Reading, place: string | undefined): CellRow;
  /** The same for a fact. */
  factRow(fact: FactId, reading: Reading): CellRow;
}

type Learned = Knowledge["lessons"]["findings"][string];
type Elsewhere = { readonly percent: readonly [number, number]; readonly basis: string };

const UNKNOWN_FINDING: Elsewhere = { percent: [1, 30], basis: "common practice" };

const byKnowledge = new WeakMap<Knowledge, Map<string, Cells>>();

/** The table of cells that speaks for this patient. */
export function cellsFor(facts: Facts): Cells {
  const { knowledge } = facts;
  const profile = profileOf(facts);
  let tables = byKnowledge.get(knowledge);
  if (!tables) {
    tables = new Map();
    byKnowledge.set(knowledge, tables);
  }
  let cells = tables.get(profile.key);
  if (!cells) {
    cells = makeCells(knowledge, profile);
    tables.set(profile.key, cells);
  }
  return cells;
}

const intervals = new WeakMap<Cell, { low: number; high: number }>();

/** 95 % interval of a cell, as fractions. */
export function interval(cell: Cell): { low: number; high: number } {
  let found = intervals.get(cell);
  if (!found) {
    const { inv } = jstat.jStat.beta;
    found = { low: inv(0.025, cell.a, cell.b), high: inv(0.975, cell.a, cell.b) };
    intervals.set(cell, found);
  }
  return found;
}

/** Mean of a cell drawn towards the average and kept within the limits. */
export function expected(a: number, b: number, average: number, knowledge: Knowledge): number {
  return pulled(a, a + b, average, knowledge);
}

/** Share of `positive` of `patients`, drawn towards the average and kept within the limits. */
export function pulled(positive: number, patients: number, average: number, knowledge: Knowledge): number {
  const { pull_patients: pull, frequency_limits: limits } = knowledge.weighing;
  // By number: taking them apart by pattern costs as much as the rest.
  return Math.min(limits[1], Math.max(limits[0], (positive + pull * average) / (patients + pull)));
}

/** Weight of a finding of frequency `p` against the average over disorders, natural-log units. */
export function logRatio(reading: Reading, p: number, average: number, knowledge: Knowledge): number {
  const { frequency_limits: limits } = knowledge.weighing;
  const usual = Math.min(limits[1], Math.max(limits[0], average));
  return reading === "present" ? Math.log(p / usual) : Math.log((1 - p) / (1 - usual));
}

function profileOf(facts: Facts): Profile {
  const fits = new Set<string>();
  const knownAxes = new Set<string>();
  for (const tag of facts.knowledge.weighing.subgroups) {
    if (!holds(tag.when, facts)) continue;
    fits.add(tag.word);
    knownAxes.add(tag.axis);
  }
  return { fits, knownAxes, key: [...fits].sort().join("|") };
}

function makeCells(knowledge: Knowledge, profile: Profile): Cells {
  const disorders = Object.keys(knowledge.disorders)
    .filter((id) => knowledge.disorders[id]?.family !== "healthy")
    .sort();
  const shares = priorShares(knowledge, disorders);
  const rows = new Map<string, CellRow>();
  const kept = (
    id: string,
    reading: Reading,
    byDefault: () => Cell,
    evidenceOf: (disorder: DisorderId) => readonly EvidenceRow[] | undefined,
    onHealthy: readonly EvidenceRow[] | undefined,
    learned: Learned | undefined,
    place: string | undefined,
  ): CellRow => {
    let row = rows.get(id);
    if (!row) {
      const usual = byDefault();
      const cell = (evidence: readonly EvidenceRow[] | undefined) =>
        evidence ? makeCell(evidence, usual, profile, reading, place, knowledge) : usual;
      const cells = disorders.map((d) => cell(evidenceOf(d)));
      const healthy = cell(onHealthy);
      const h = knowledge.weighing.healthy.share;
      const average =
        h * healthy.mean + (1 - h) * cells.reduce((sum, c, i) => sum + c.mean * (shares[i] ?? 0), 0);
      const frequencies = cells.map(({ a, b }) => expected(a, b, average, knowledge));
      const lessons = disorders.map((d) => learned?.[reading]?.[d] ?? 0);
      const weights = frequencies.map((p, i) => logRatio(reading, p, average, knowledge) + (lessons[i] ?? 0));
      row = { id, reading, disorders, cells, healthy, average, frequencies, lessons, weights };
      rows.set(id, row);
    }
    return row;
  };
  return {
    disorders,
    row: (finding, reading, place) =>
      kept(
        `${finding}/${reading}/${place ?? ""}`,
        reading,
        () => defaultCell(knowledge.findings[finding]?.elsewhere ?? UNKNOWN_FINDING, knowledge),
        (d) => knowledge.disorders[d]?.evidence[finding],
        knowledge.healthy[finding],
        knowledge.lessons.findings[finding],
        place,
      ),
    factRow: (fact, reading) =>
      kept(
        `fact ${fact}/${reading}`,
        reading,
        () => defaultCell(knowledge.weighing.facts.elsewhere, knowledge),
        (d) => knowledge.facts[fact]?.evidence[d],
        undefined,
        knowledge.lessons.facts[fact],
        undefined,
      ),
  };
}

function priorShares(knowledge: Knowledge, disorders: readonly DisorderId[]): number[] {
  const weights = disorders.map((id) => Math.exp(knowledge.disorders[id]?.base.weight ?? 0));
  const total = weights.reduce((sum, w) => sum + w, 0);
  return weights.map((w) => w / total);
}

function makeCell(
  evidence: readonly EvidenceRow[],
  byDefault: Cell,
  profile: Profile,
  reading: Reading,
  place: string | undefined,
  knowledge: Knowledge,
): Cell {
  const { rows } = knowledge.weighing;
  const chosen =
    chooseRows(evidence, profile, reading, place, knowledge) ??
    (place ? chooseRows(evidence, profile, reading, undefined, knowledge) : undefined);
  if (!chosen) return byDefault;
  const pooled = pool(chosen.studies, {
    before: byDefault.mean,
    usual: rows.spread,
    floor: rows.spread_floor,
  });
  const n = chosen.sources.length;
  const basis = [
    `${n} ${n === 1 ? "source" : "sources"}`,
    ...(chosen.patients > 0 ? [`${chosen.patients} patients`] : []),
    `spread between studies ${pooled.spread.toFixed(2)}`,
  ].join(", ");
  const source = chosen.sources.join("; ");
  return { a: pooled.a, b: pooled.b, mean: pooled.mean, byDefault: false, basis, source };
}

/** What stands in for a finding or fact wherever no study reports it. */
function defaultCell({ percent, basis: source }: Elsewhere, knowledge: Knowledge): Cell {
  const [low, high] = percent;
  const { a, b } = betaFromInterval(low / 100, high / 100, knowledge.weighing.rows.default_patients);
  const basis = `no study; our default of ${low} to ${high}\u00a0%`;
  return { a, b, mean: a / (a + b), byDefault: true, basis, source };
}
