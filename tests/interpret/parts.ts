/** Short ways to write what one part of the reasoning hands to the next. */
import type { Cell, CellRow } from "../../src/interpret/cells.js";
import type { Band, DisorderView, Reason } from "../../src/interpret/interpretation.js";
import type { FindingEntry } from "../../src/interpret/picture.js";
import type { RuleLine } from "../../src/interpret/rules.js";
import type { Weighed, WeighedEntry } from "../../src/interpret/weigh.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { smallKnowledge } from "./small-knowledge.js";

/** The disorders of the small knowledge, in the order of the cells. */
export const HARBOUR = 0;
export const NET = 1;
export const ROPE = 2;
export const DISORDERS = ["harbour-loss", "net-scar", "rope-wear"];

const small = smallKnowledge();

/** Made-up factors in round numbers, so that edges can be hit exactly. */
export function knowledgeWith(weighing: Partial<Knowledge["weighing"]>): Knowledge {
  return { ...small, weighing: { ...small.weighing, ...weighing } };
}

export function reason(weight: number, parts: Partial<Reason> = {}): Reason {
  return { kind: "finding", id: "hooked-ends", says: "hooked ends", weight, source: "rope2020", ...parts };
}

export function view(id: string, band: Band, parts: Partial<DisorderView> = {}): DisorderView {
  return { id, band, leads: 0, score: 0, base: 0, for: [], against: [], ...parts };
}

export function line(disorder: string, weight: number, parts: Partial<RuleLine> = {}): RuleLine {
  return {
    disorder,
    kind: "pattern",
    id: "a-rule",
    says: "A rule.",
    weight,
    rawWeight: weight,
    source: "common practice",
    ...parts,
  };
}

const UNSTUDIED: Cell = { a: 1, b: 9, mean: 0.1, byDefault: true, basis: "none", source: "common practice" };

/** An entry whose weight in each disorder is given; frequencies, studies and the healthy share as wanted. */
export function entry(
  finding: string,
  weights: readonly number[],
  parts: {
    readonly seen?: Partial<FindingEntry>;
    readonly factor?: number;
    readonly frequencies?: readonly number[];
    readonly studied?: readonly boolean[];
    readonly healthy?: number;
    readonly average?: number;
    readonly lessons?: readonly number[];
  } = {},
): WeighedEntry {
  const seen: FindingEntry = {
    kind: "finding",
    id: finding,
    state: "present",
    amount: "several",
    site: "vertex",
    ...parts.seen,
  };
  const row: CellRow = {
    id: `${finding}/${seen.state}/`,
    reading: seen.state,
    disorders: DISORDERS,
    cells: DISORDERS.map((_, d) => ({ ...UNSTUDIED, byDefault: !(parts.studied?.[d] ?? true) })),
    healthy: { ...UNSTUDIED, mean: parts.healthy ?? 0.01 },
    average: parts.average ?? 0.2,
    frequencies: parts.frequencies ?? [0.2, 0.2, 0.2],
    lessons: parts.lessons ?? [0, 0, 0],
    weights,
  };
  return { entry: seen, row, factor: parts.factor ?? 1 };
}

function none(): never {
  throw new Error("no cells here");
}

export function weighedFrom(parts: {
  readonly entries?: readonly WeighedEntry[];
  readonly lines?: readonly RuleLine[];
  readonly base?: readonly number[];
  readonly scores?: readonly number[];
  readonly knowledge?: Knowledge;
}): Weighed {
  const base = parts.base ?? [0, 0, 0];
  return {
    cells: {
      disorders: DISORDERS,
      row: none,
      factRow: none,
    },
    base,
    entries: parts.entries ?? [],
    lines: parts.lines ?? [],
    ruled: [0, 0, 0],
    scores: parts.scores ?? base,
  };
}
