/**
 * A picture and the rules that hold -> a score per disorder, as a sum of ledger lines.
 *
 * A finding that is present weighs amount x share x ln(p / average); one looked for and absent weighs
 * absence x share x ln((1 - p) / (1 - average)); one not assessed weighs nothing. The average is the same for every disorder and
 * the share is fixed per finding, so that more evidence for a disorder can never lower it against the others.
 */
import type { Finding, Knowledge } from "../knowledge/schema.js";
import { type CellRow, type Cells, cellsFor } from "./cells.js";
import type { Facts } from "./facts.js";
import { type Entry, type FactEntry, type FindingEntry, isToldOnly } from "./picture.js";
import { type RuleLine, ruleLines } from "./rules.js";
import { toldFacts } from "./told-facts.js";

/** Parts that can be switched off, to see what each is worth. Left out means on. */
export interface Ablation {
  readonly damping?: boolean;
  readonly absence?: boolean;
  readonly amounts?: boolean;
  readonly context?: boolean;
  readonly patterns?: boolean;
  readonly facts?: boolean;
  /** Ids of rules to leave out. */
  readonly without?: readonly string[];
}

export interface WeighedEntry {
  readonly entry: Entry;
  readonly row: CellRow;
  /** Amount (or absence) times share. */
  readonly factor: number;
}

export interface Weighed {
  readonly cells: Cells;
  readonly base: readonly number[];
  readonly entries: readonly WeighedEntry[];
  readonly lines: readonly RuleLine[];
  /** Sum of the rule lines of each disorder. */
  readonly ruled: readonly number[];
  /** Base, findings and rules together, natural-log units. */
  readonly scores: readonly number[];
}

/** Weighs every disorder of the knowledge on the picture and the facts of the visit, or of one site. Pure; all values finite. */
export function weigh(
  facts: Facts,
  picture: readonly FindingEntry[],
  ablate: Ablation = {},
  site?: number,
): Weighed {
  const { knowledge } = facts;
  const cells = cellsFor(facts);
  const told = ablate.facts === false ? [] : toldFacts(facts, site);
  const entries = [...picture, ...told].map((entry): WeighedEntry => {
    if (entry.kind === "fact")
      return { entry, row: cells.factRow(entry.id, entry.state), factor: factFactor(entry, knowledge) };
    const finding = knowledge.findings[entry.id];
    return {
      entry,
      row: cells.row(entry.id, entry.state, entry.place),
      factor: finding ? factorOf(entry, finding, knowledge, ablate) : 0,
    };
  });
  const lines = ruleLines(facts, ablate);
  const base = cells.disorders.map((id) => knowledge.disorders[id]?.base.weight ?? 0);
  const ruled = cells.disorders.map((id) =>
    lines.reduce((sum, line) => (line.disorder === id ? sum + line.weight : sum), 0),
  );
  const scores = cells.disorders.map((_, d) =>
    entries.reduce((sum, e) => sum + entryWeight(e, d), (base[d] ?? 0) + (ruled[d] ?? 0)),
  );
  return { cells, base, entries, lines, ruled, scores };
}

/** Weight of an entry for disorder number `d`. */
export function entryWeight(e: WeighedEntry, d: number): number {
  return e.factor * (e.row.weights[d] ?? 0);
}

/** Findings, patterns, published rules and tests of disorder number `d`, without its starting weight and the history. */
export function foundFor(
  { cells, lines, entries }: Weighed,
  d: number,
  counts: (line: RuleLine) => boolean = () => true,
): number {
  const id = cells.disorders[d];
  const ruled = lines.reduce(
    (sum, l) => (l.disorder === id && l.kind !== "context" && counts(l) ? sum + l.weight : sum),
    0,
  );
  return entries.reduce((sum, e) => (isToldOnly(e.entry) ? sum : sum + entryWeight(e, d)), ruled);
}

/** Facts that free text alone speaks for weigh little until somebody confirms them. */
function factFactor({ state, words }: FactEntry, { weighing }: Knowledge): number {
  return (state === "absent" ? weighing.absence : 1) * (words ? weighing.facts.from_words : 1);
}

function factorOf(entry: FindingEntry, finding: Finding, knowledge: Knowledge, ablate: Ablation): number {
  const { amounts, absence, sharpen } = knowledge.weighing;
  const share = sharpen.findings * (ablate.damping === false ? 1 : finding.share ** sharpen.shares);
  if (entry.state === "absent") return ablate.absence === false ? 0 : absence * share;
  if (ablate.amounts === false) return share;
  if (entry.amount === null) return amounts.not_graded * share;
  if (entry.amount === "single" && !finding.one_alone_counts) return amounts.single_proves_little * share;
  return amounts[entry.amount] * share;
}
