/** Runs the engine over the published cases and counts: leading disorder, rank of the confirmed one, must-not-miss, calibration. */
import { type Ablation, interpret } from "../../src/interpret/interpret.js";
import type { Band } from "../../src/interpret/interpretation.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { type PublishedCase, visitOf } from "./read-cases.js";

export interface CaseResult {
  readonly id: string;
  readonly confirmed: readonly string[];
  /** Findings recorded as present. */
  readonly findings: number;
  readonly leading: string;
  readonly band: Band;
  readonly leads: number;
  /** Share of draws in which a confirmed disorder leads. */
  readonly confirmedLeads: number;
  /** Best rank of a confirmed disorder, from 1; a second disorder that was named ranks 2. */
  readonly rank: number;
  readonly confirmedBand: Band;
  readonly second?: string;
  readonly mustNotMiss: readonly string[];
  /** Questions put to the clinician. */
  readonly askedFor: readonly string[];
  /** Must-not-miss line that a confirmed scarring, infectious or syphilitic disorder calls for; null when none. */
  readonly wanted: string | null;
}

export interface Totals {
  readonly cases: number;
  readonly top1: number;
  readonly top3: number;
  /** Confirmed scarring cases, and those among them called unlikely. */
  readonly scarring: number;
  readonly scarringUnlikely: number;
  readonly wanted: number;
  readonly raised: number;
  /** Mean surprise at the confirmed disorder, bits: 0 when it always leads in every draw, 1 when in half of them. */
  readonly surprise: number;
  /** Per band of the leading disorder: how many, and how many right. */
  readonly calibration: Readonly<Record<string, { readonly cases: number; readonly right: number }>>;
}

export function runCase(c: PublishedCase, knowledge: Knowledge, ablate?: Ablation): CaseResult {
  const { visit, measures } = visitOf(c, knowledge);
  const i = interpret(visit, measures, knowledge, ablate ? { ablate } : {});
  const ranks = c.confirmed.map((id) => {
    const at = i.disorders.findIndex((d) => d.id === id) + 1;
    return i.second?.id === id ? Math.min(2, at) : at;
  });
  const rank = Math.min(...ranks.map((r) => (r === 0 ? Number.POSITIVE_INFINITY : r)));
  const best = i.disorders.filter((d) => c.confirmed.includes(d.id)).map((d) => d.band)[0];
  const first = i.disorders[0];
  return {
    id: c.id,
    confirmed: c.confirmed,
    findings: c.sites.reduce((n, s) => n + Object.keys(s.findings).length, 0),
    leading: first?.id ?? "",
    band: first?.band ?? "not assessable",
    leads: first?.leads ?? 0,
    confirmedLeads: i.disorders.reduce((sum, d) => (c.confirmed.includes(d.id) ? sum + d.leads : sum), 0),
    rank,
    confirmedBand: best ?? "not assessable",
    ...(i.second ? { second: i.second.id } : {}),
    mustNotMiss: i.mustNotMiss.map((m) => m.id),
    askedFor: i.askedFor.map((a) => a.id),
    wanted: wantedLine(c.confirmed, knowledge),
  };
}

/** A disorder that leads in no draw counts as leading in half a one of a hundred. */
const LEAST = 0.005;

export function totalsOf(results: readonly CaseResult[], knowledge: Knowledge): Totals {
  const scarring = results.filter((r) =>
    r.confirmed.some((id) => knowledge.disorders[id]?.family === "scarring"),
  );
  const wanted = results.filter((r) => r.wanted !== null);
  const calibration: Record<string, { cases: number; right: number }> = {};
  for (const r of results) {
    const before = calibration[r.band] ?? { cases: 0, right: 0 };
    calibration[r.band] = { cases: before.cases + 1, right: before.right + (r.rank === 1 ? 1 : 0) };
  }
  return {
    cases: results.length,
    top1: results.filter((r) => r.rank === 1).length,
    top3: results.filter((r) => r.rank <= 3).length,
    scarring: scarring.length,
    scarringUnlikely: scarring.filter((r) => r.confirmedBand === "unlikely").length,
    wanted: wanted.length,
    raised: wanted.filter((r) => r.mustNotMiss.includes(r.wanted ?? "")).length,
    surprise:
      results.reduce((sum, r) => sum - Math.log2(Math.max(r.confirmedLeads, LEAST)), 0) / results.length,
    calibration,
  };
}

function wantedLine(confirmed: readonly string[], knowledge: Knowledge): string | null {
  for (const id of confirmed) {
    // A scar from before birth does not go on: nothing is lost by waiting.
    if (id === "aplasia-cutis") continue;
    if (id === "tinea-capitis") return "fungal-infection";
    if (id === "syphilitic-alopecia") return "syphilis";
    if (knowledge.disorders[id]?.family === "scarring") return "scarring";
  }
  return null;
}
