/** How much of what could bear on the candidates was looked at, and what was not. */
import type { Knowledge } from "../knowledge/schema.js";
import type { Candidate } from "./look-next.js";
import { round } from "./reasons.js";
import type { Weighed } from "./weigh.js";

export interface Coverage {
  /** Finding ids, the weightiest first. */
  readonly notAssessed: readonly string[];
  /** 0-1. */
  readonly assessedShare: number;
}

/** A finding matters when a study reports it in a candidate, and the more so the further that lies from the average. */
const MATTERS = 0.12;
const MOST_NAMED = 15;

export function coverage(weighed: Weighed, candidates: readonly Candidate[], knowledge: Knowledge): Coverage {
  const assessed = new Set(weighed.entries.map((e) => e.entry.id));
  const open: { id: string; matters: number }[] = [];
  let total = 0;
  let seen = 0;
  for (const finding of Object.values(knowledge.findings)) {
    const row = weighed.cells.row(finding.id, "present", undefined);
    const matters = Math.max(
      0,
      ...candidates.map((c) => {
        const cell = row.cells[c.d];
        if (!cell || cell.byDefault) return 0;
        return (
          finding.share *
          cell.mean *
          Math.abs(Math.log(Math.max(cell.mean, 1e-3) / Math.max(row.average, 1e-3)))
        );
      }),
    );
    total += matters;
    if (assessed.has(finding.id)) seen += matters;
    else if (matters >= MATTERS) open.push({ id: finding.id, matters });
  }
  open.sort((x, y) => y.matters - x.matters || (x.id < y.id ? -1 : 1));
  return {
    notAssessed: open.slice(0, MOST_NAMED).map((o) => o.id),
    assessedShare: total > 0 ? round(seen / total) : 0,
  };
}
