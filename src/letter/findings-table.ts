/** Sites as rows: what was seen and how much, what was looked for and not seen. */
import type { Knowledge } from "../knowledge/schema.js";
import type { FindingSeen, Site } from "../visit/visit.js";
import { fill, type Words } from "./words.js";

export interface SiteRow {
  readonly number: number;
  readonly name: string;
  readonly plain: string;
  readonly patch: string;
  /** Size only, without margin words. */
  readonly patchPlain: string;
  readonly present: readonly { readonly id: string; readonly term: string; readonly amount: string }[];
  readonly absent: readonly string[];
  readonly notes: string;
}

/** `several`, `14 in 2 fields` */
export function amountText(words: Words, finding: FindingSeen): string {
  if (finding.seen.state === "absent") return "";
  const { count, amount } = finding.seen;
  if (count) return fill(count.fields === 1 ? words.count.one : words.count.other, { ...count });
  return words.amounts[amount ?? "seen"] ?? "";
}

/** The trade term of a finding. */
export function findingTerm(knowledge: Knowledge, id: string): string {
  return knowledge.findings[id]?.term ?? id;
}

/** One row per site, numbered as on the scalp map; numbers given by `numberOf`. */
export function siteRows(
  words: Words,
  knowledge: Knowledge,
  sites: readonly Site[],
  numberOf: (index: number) => number,
): SiteRow[] {
  return sites.map((site, index) => ({
    number: numberOf(index),
    name: words.regions[site.site] ?? site.site,
    plain: knowledge.regions[site.site]?.plain ?? site.site,
    patch: site.patch ? patchText(words, site) : "",
    patchPlain: site.patch
      ? fill(words.phrases.patch_plain ?? "", { length: site.patch.lengthMm, width: site.patch.widthMm })
      : "",
    present: site.findings
      .filter((f) => f.seen.state === "present")
      .map((f) => ({ id: f.finding, term: findingTerm(knowledge, f.finding), amount: amountText(words, f) })),
    absent: site.findings
      .filter((f) => f.seen.state === "absent")
      .map((f) => findingTerm(knowledge, f.finding)),
    notes: site.notes ?? "",
  }));
}

function patchText(words: Words, site: Site): string {
  if (!site.patch) return "";
  const size = fill(words.phrases.patch ?? "", { length: site.patch.lengthMm, width: site.patch.widthMm });
  return site.patch.margin ? `${size}, ${words.margin[site.patch.margin] ?? site.patch.margin}` : size;
}
