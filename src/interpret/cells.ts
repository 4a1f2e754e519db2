/** Disorder by finding: the pooled frequency, made once per knowledge and kind of patient. */
import jstat from "jstat";
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
  /** In the order of `Cells.disorders`. */
  readonly cells: readonly Cell[];
  readonly healthy: Cell;
  /** Average over disorders by how often they are met, healthy scalps included: what nothing in particular would lead to expect. */
  readonly average: number;
}

export interface Cells {
  readonly disorders: readonly string[];
  row(finding: string, reading: "present" | "absent", place: string | undefined): CellRow;
}

const UNKNOWN_FINDING = { percent: [1, 30] as const, basis: "common practice" as const };

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

/** 95 % interval of a cell, as fractions. */
export function interval(cell: { readonly a: number; readonly b: number }): { low: number; high: number } {
  return {
    low: jstat.jStat.beta.inv(0.025, cell.a, cell.b),
    high: jstat.jStat.beta.inv(0.975, cell.a, cell.b),
  };
}

/** Mean of a cell drawn towards the average and kept within the limits. */
export function expected(a: number, b: number, average: number, knowledge: Knowledge): number {
  const { pull_patients: pull, frequency_limits: limits } = knowledge.weighing;
  const [low, high] = limits;
  return Math.min(high, Math.max(low, (a + pull * average) / (a + b + pull)));
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
  const disorders = Object.keys(knowledge.disorders).sort();
  const shares = priorShares(knowledge, disorders);
  const rows = new Map<string, CellRow>();
  return {
    disorders,
    row(finding, reading, place) {
      const key = `${finding}/${reading}/${place ?? ""}`;
      let row = rows.get(key);
      if (!row) {
        const cell = (evidence: readonly EvidenceRow[] | undefined) =>
          makeCell(finding, evidence ?? [], profile, reading, place, knowledge);
        const cells = disorders.map((id) => cell(knowledge.disorders[id]?.evidence[finding]));
        const healthy = cell(knowledge.healthy[finding]);
        const { healthy_share: h } = knowledge.weighing;
        const average =
          h * healthy.mean + (1 - h) * cells.reduce((sum, c, i) => sum + c.mean * (shares[i] ?? 0), 0);
        row = { cells, healthy, average };
        rows.set(key, row);
      }
      return row;
    },
  };
}

function priorShares(knowledge: Knowledge, disorders: readonly string[]): number[] {
  const weights = disorders.map((id) => Math.exp(knowledge.disorders[id]?.base.weight ?? 0));
  const total = weights.reduce((sum, w) => sum + w, 0);
  return weights.map((w) => w / total);
}

function makeCell(
  finding: string,
  evidence: readonly EvidenceRow[],
  profile: Profile,
  reading: "present" | "absent",
  place: string | undefined,
  knowledge: Knowledge,
): Cell {
  const { rows } = knowledge.weighing;
  const elsewhere = knowledge.findings[finding]?.elsewhere ?? UNKNOWN_FINDING;
  const [low, high] = elsewhere.percent;
  const { a, b } = betaFromInterval(low / 100, high / 100, rows.default_patients);
  const chosen =
    chooseRows(evidence, profile, reading, place, knowledge) ??
    (place ? chooseRows(evidence, profile, reading, undefined, knowledge) : undefined);
  if (chosen) {
    const pooled = pool(chosen.studies, {
      before: a / (a + b),
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
  return {
    a,
    b,
    mean: a / (a + b),
    byDefault: true,
    basis: `no study; our default of ${low} to ${high} percent`,
    source: elsewhere.basis,
  };
}
