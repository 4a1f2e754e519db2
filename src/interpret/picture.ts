/** Findings of some sites -> one entry per finding and place: present anywhere at its largest amount, absent only if nowhere present. */

import type { Knowledge } from "../knowledge/schema.js";
import type { Amount, Region, Site } from "../visit/visit.js";
import type { Facts } from "./facts.js";
import { amountRank, inRegion } from "./facts.js";

export interface Entry {
  /** Finding id, or fact id where `fact` is given. */
  readonly finding: string;
  /** A fact: whether it was seen on examination, and whether free text alone speaks for it. */
  readonly fact?: { readonly examined: boolean; readonly words: boolean };
  readonly state: "present" | "absent";
  readonly amount: Amount | null;
  /** Where it was seen most, or the first place where it was looked for; facts of the visit have none. */
  readonly site?: Region;
  /** Site word of the evidence rows that speak here, such as `eyebrow`; undefined on the scalp. */
  readonly place?: string;
}

/** Entries in order of finding id, so that the order in the file means nothing. Unknown finding ids are left out. */
export function pictureOf(facts: Facts, sites: readonly Site[]): Entry[] {
  const { knowledge } = facts;
  const found = new Map<string, Entry>();
  for (const site of [...sites].sort((x, y) => (x.site < y.site ? -1 : x.site > y.site ? 1 : 0))) {
    const place = knowledge.weighing.places.find((p) => p.regions.some((r) => inRegion(site.site, r)))?.site;
    for (const { finding, seen } of site.findings) {
      if (!knowledge.findings[finding]) continue;
      const entry: Entry = {
        finding,
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

function outranks(entry: Entry, before: Entry): boolean {
  return rank(entry) > rank(before);
}

/** A present finding without an amount ranks just above `few`, so that a graded one of several wins and a single one does not. */
function rank(entry: Entry): number {
  if (entry.state === "absent") return 0;
  return amountRank(entry.amount) + (entry.amount === null ? 0.5 : 0);
}

/** True when a scarring sign stands: present, and more than one where one alone proves little. */
export function scarringSign(picture: readonly Entry[], knowledge: Knowledge): boolean {
  return picture.some((e) => {
    const finding = knowledge.findings[e.finding];
    return (
      e.state === "present" &&
      finding?.scarring_sign === true &&
      (finding.one_alone_counts || e.amount !== "single")
    );
  });
}
