/** Parts that several entries of the catalogue print alike: evidence rows and citations. */
import pc from "picocolors";
import type { EvidenceRow, Knowledge } from "../knowledge/schema.js";
import { wrap } from "./wrap.js";

export function evidenceLines(term: string, rows: readonly EvidenceRow[], cited: Set<string>): string[] {
  return rows.map((row) => {
    cited.add(row.source);
    return wrap(
      `${term}: ${figure(row)}${row.subgroup ? `, ${row.subgroup}` : ""}${row.unit ? `, ${row.unit}` : ""} [${row.source}${row.how === "memory" ? ", from memory" : ""}]`,
      2,
    );
  });
}

function figure(row: EvidenceRow): string {
  if (row.positive !== undefined && row.of !== undefined) {
    return `${row.positive} of ${row.of} (${((100 * row.positive) / row.of).toFixed(0)} %)`;
  }
  if (row.percent !== undefined)
    return `${row.percent} %${row.range ? ` (studies ${row.range[0]} to ${row.range[1]} %)` : ""}`;
  if (row.range) return `${row.range[0]} to ${row.range[1]} %`;
  return `${row.frequency ?? ""} (a word, no number printed)`;
}

export function citations(source: string, k: Knowledge): string[] {
  const ids = [...new Set(source.split(/\s*;\s*/u))].filter((id) => k.sources[id]);
  if (ids.length === 0) return [];
  return [pc.bold("Sources"), ...ids.map((id) => wrap(`[${id}] ${k.sources[id]?.citation ?? ""}`, 2))];
}
