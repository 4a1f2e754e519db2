/** Weighed entries and rule lines -> the ledger of one disorder, strongest first, in trade words. */
import { withoutCapital } from "../base/text.js";
import type { Knowledge } from "../knowledge/schema.js";
import { interval } from "./cells.js";
import type { Reason } from "./interpretation.js";
import type { Entry } from "./picture.js";
import { entryWeight, type Weighed, type WeighedEntry } from "./weigh.js";

/** Lines weaker than this are left out of the ledger; they still count in the score. */
const WORTH_SAYING = 0.03;

/** All reasons for and against disorder number `d`, by size of weight, then id. */
export function reasonsFor(weighed: Weighed, d: number, knowledge: Knowledge): Reason[] {
  const id = weighed.cells.disorders[d] ?? "";
  const findings = weighed.entries.flatMap((e) => findingReason(e, d, knowledge));
  const rules = weighed.lines
    .filter((line) => line.disorder === id)
    .map(
      ({ kind, id: rule, says, weight, rawWeight, source }): Reason => ({
        kind,
        id: rule,
        says,
        weight: round(weight),
        rawWeight: round(rawWeight),
        source,
      }),
    );
  return [...findings, ...rules]
    .filter((r) => Math.abs(r.weight) >= WORTH_SAYING)
    .sort((x, y) => Math.abs(y.weight) - Math.abs(x.weight) || (x.id < y.id ? -1 : 1));
}

/** `exclamation mark hairs, several` or `comma hairs looked for and not seen`. */
export function entryWords(entry: Entry, knowledge: Knowledge): string {
  if (entry.kind === "fact") {
    const term = knowledge.facts[entry.id]?.term ?? entry.id;
    if (entry.state === "absent") return `${term}: no`;
    return entry.words ? `${term} (read from words)` : term;
  }
  const term = knowledge.findings[entry.id]?.term ?? entry.id;
  if (entry.state === "absent") return `${term} looked for and not seen`;
  return entry.amount === null ? term : `${term}, ${entry.amount}`;
}

/** A reason fit for the middle of a sentence: no capital at its start and no stop at its end. */
export function reasonPhrase(reason: Reason): string {
  const says = reason.says.replace(/\.$/u, "");
  return /^\p{Lu}(\p{Ll}|[ ,])/u.test(says) ? withoutCapital(says) : says;
}

function findingReason(e: WeighedEntry, d: number, knowledge: Knowledge): Reason[] {
  const cell = e.row.cells[d];
  if (!cell) return [];
  const weight = entryWeight(e, d);
  if (Math.abs(weight) < WORTH_SAYING) return [];
  const { low, high } = interval(cell);
  return [
    {
      kind: e.entry.kind,
      id: e.entry.id,
      says: entryWords(e.entry, knowledge),
      ...(e.entry.kind === "finding"
        ? { site: e.entry.site }
        : { examined: e.entry.examined && !e.entry.words }),
      state: e.entry.state,
      ...(e.entry.state === "present" ? { amount: e.entry.kind === "finding" ? e.entry.amount : null } : {}),
      weight: round(weight),
      rawWeight: round(e.row.weights[d] ?? 0),
      ...(e.row.lessons[d] ? { fromCases: round(e.factor * e.row.lessons[d]) } : {}),
      frequency: { mean: round(cell.mean), low: round(low), high: round(high), basis: cell.basis },
      source: cell.source,
    },
  ];
}

export function round(value: number): number {
  // Adding zero turns -0 into 0, which JSON cannot tell apart.
  return Math.round(value * 1000) / 1000 + 0;
}
