/** Findings of some sites -> one entry per finding and place: present anywhere at its largest amount, absent only if nowhere present. */

import type { FactId, FindingId } from "../base/ids.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Amount, Region, Site } from "../visit/visit.js";
import type { Facts } from "./facts.js";
import { amountRank, inRegion } from "./facts.js";

/** A finding at the place where it was seen most, or first looked for. */
export interface FindingEntry {
  readonly kind: "finding";
  readonly id: FindingId;
  readonly state: "present" | "absent";
  readonly amount: Amount | null;
  readonly site: Region;
  /** Site word of the evidence rows that speak here, such as `eyebrow`; undefined on the scalp. */
  readonly place?: string;
}

/** A fact of the visit. */
export interface FactEntry {
  readonly kind: "fact";
  readonly id: FactId;
  readonly state: "present" | "absent";
  /** Seen on examination, not told of the past. */
  readonly examined: boolean;
  /** Free text alone speaks for it. */
  readonly words: boolean;
}

export type Entry = FindingEntry | FactEntry;

/** What is told of the past, and so explains nothing that is seen. */
export const isToldOnly = (entry: Entry): boolean => entry.kind === "fact" && !entry.examined;

/** Entries in order of finding id, so that the order in the file means nothing. Unknown finding ids are left out. */
export function pictureOf(facts: Facts, sites: readonly Site[]): FindingEntry[] {
  const { knowledge } = facts;
  const found = new Map<string, FindingEntry>();
  for (const site of [...sites].sort((x, y) => (x.site < y.site ? -1 : x.site > y.site ? 1 : 0))) {
    const place = knowledge.weighing.places.find((p) => p.regions.some((r) => inRegion(site.site, r)))?.site;
    for (const { finding, seen } of site.findings) {
      if (!knowledge.findings[finding]) continue;
      const entry: FindingEntry = {
        kind: "finding",
        id: finding,
        state: seen.state,
        amount: seen.state === "present" ? seen.amount : null,
        site: site.site,
        ...(place ? { place } : {}),
      };
      const key = `${finding}/${place ?? ""}`;
      const before = found.get(key);
      if (!before || outranks(entry, before)) found.set(key, entry);
    }
  }
  return [...found.entries()].sort(([x], [y]) => (x < y ? -1 : 1)).map(([, entry]) => entry);
}

function outranks(entry: FindingEntry, before: FindingEntry): boolean {
  return rank(entry) > rank(before);
}

/** A present finding without an amount ranks just above `few`, so that a graded one of several wins and a single one does not. */
function rank(entry: FindingEntry): number {
  if (entry.state === "absent") return 0;
  return amountRank(entry.amount) + (entry.amount === null ? 0.5 : 0);
}

/** True when a scarring sign stands: present, and more than one where one alone proves little. */
export function scarringSign(picture: readonly Entry[], knowledge: Knowledge): boolean {
  return picture.some((e) => {
    if (e.kind === "fact") return false;
    const finding = knowledge.findings[e.id];
    return (
      e.state === "present" &&
      finding?.scarring_sign === true &&
      (finding.one_alone_counts || e.amount !== "single")
    );
  });
}
