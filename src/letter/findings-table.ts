/** Sites as rows: what was seen and how much, what was looked for and not seen. */

import type { FindingId } from "../base/ids.js";
import { fill } from "../base/text.js";
import type { Knowledge } from "../knowledge/schema.js";
import { assessmentOf } from "../visit/assessment.js";
import type { FindingSeen, Site } from "../visit/visit.js";
import { answered, factTerms } from "./history-facts.js";
import { type Words, writeRecorded } from "./phrases.js";
import type { LetterFacts } from "./variables.js";

export type SiteRow = LetterFacts["sites"][number];

/** `several`, `14 in 2 fields` */
export function amountText(words: Words, finding: FindingSeen): string {
  if (finding.seen.state === "absent") return "";
  const { count, amount } = finding.seen;
  if (count) return fill(count.fields === 1 ? words.count.one : words.count.other, { ...count });
  return words.amounts[amount ?? "seen"] ?? "";
}

/** The trade term of a finding. */
export function findingTerm(knowledge: Knowledge, id: FindingId): string {
  return knowledge.findings[id]?.term ?? id;
}

/** One row per site, numbered as on the scalp map. */
export function siteRows(words: Words, knowledge: Knowledge, sites: readonly Site[]): SiteRow[] {
  return sites.map((site, index) => {
    const present = presentAt(words, knowledge, site);
    return {
      number: index + 1,
      name: words.regions[site.site] ?? site.site,
      plain: knowledge.regions[site.site]?.plain ?? site.site,
      patch: site.patch ? patchText(words, site) : "",
      patchPlain: site.patch ? sizeInWords(words, site.patch) : "",
      present,
      amounts: byAmount(words, present),
      absent: [
        ...site.findings
          .filter((f) => f.seen.state === "absent")
          .map((f) => findingTerm(knowledge, f.finding)),
        ...factTerms(knowledge, answered(site.signs, false)),
      ],
      nothing: words.site_states[siteState(site)],
      nothingPlain: isSomethingSeen(site) ? "" : words.site_states_plain[siteState(site)],
      notes: site.notes ?? "",
    };
  });
}

function presentAt(words: Words, knowledge: Knowledge, site: Site): SiteRow["present"] {
  return [
    ...site.findings
      .filter((f) => f.seen.state === "present")
      .map((f) => ({
        id: f.finding,
        term: findingTerm(knowledge, f.finding),
        amount: amountText(words, f),
      })),
    ...answered(site.signs, true).map((id) => ({
      id,
      term: knowledge.facts[id]?.term ?? id,
      amount: words.amounts.seen ?? "",
    })),
  ];
}

/** From the most to the least; what was counted, or only seen, follows. */
function byAmount(words: Words, present: SiteRow["present"]): SiteRow["amounts"] {
  const order = ["throughout", "many", "several", "few", "single"].map(
    (amount) => words.amounts[amount] ?? amount,
  );
  const said = [...new Set([...order, ...present.map(({ amount }) => amount)])];
  return said
    .map((amount) => ({
      amount,
      terms: present.filter((finding) => finding.amount === amount).map(({ term }) => term),
    }))
    .filter(({ terms }) => terms.length > 0);
}

function patchText(words: Words, site: Site): string {
  if (!site.patch) return "";
  const size = fill(words.phrases.patch ?? "", sizeOf(words, site.patch));
  return site.patch.margin ? `${size}, ${words.margin[site.patch.margin] ?? site.patch.margin}` : size;
}

function sizeOf(words: Words, patch: NonNullable<Site["patch"]>): { length: string; width: string } {
  return { length: writeRecorded(words, patch.lengthMm), width: writeRecorded(words, patch.widthMm) };
}

function isSomethingSeen(site: Site): boolean {
  return assessmentOf(site) === "seen";
}

/** Of a site where nothing was seen: were findings looked for, were hairs only counted, or neither? */
function siteState(site: Site): "none_seen" | "counted_only" | "not_assessed" {
  const assessment = assessmentOf(site);
  if (assessment === "counted only") return "counted_only";
  return assessment === "not assessed" ? "not_assessed" : "none_seen";
}

/** `about 3 cm across`, by the longer side in half centimetres; the letter gives the millimetres. */
function sizeInWords(words: Words, { lengthMm, widthMm }: NonNullable<Site["patch"]>): string {
  const halves = Math.round(Math.max(lengthMm, widthMm) / 5);
  if (halves < 2) return words.phrases.patch_small ?? "";
  const size = halves % 2 === 0 ? String(halves / 2) : `${Math.floor(halves / 2)}½`;
  return fill(words.phrases.patch_plain ?? "", { size });
}
