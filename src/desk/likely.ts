/** Which findings to offer first at each place: those that the disorders in view would show most often, and that can be seen there. */
import type { FindingId } from "../base/ids.js";
import { cellsFor } from "../interpret/cells.js";
import { factsOf } from "../interpret/facts.js";
import type { Interpretation } from "../interpret/interpretation.js";
import type { Knowledge } from "../knowledge/schema.js";
import type { Measures } from "../measure/types.js";
import { REGIONS, type Region, type Visit } from "../visit/visit.js";

const MOST = 10;
/** The clinician's own impression counts more than what the engine finds on the way. */
const OWN = 3;

/** Findings that belong to one part of the head by their very name. */
export const ONLY_AT: Readonly<Record<string, readonly Region[]>> = {
  "absent-vellus-at-hairline": ["frontal hairline", "left temporal", "right temporal"],
  "divergent-regrowth": ["left eyebrow", "right eyebrow"],
};

/** True when a finding can be looked for at a place. */
export function belongsAt(finding: FindingId, region: Region): boolean {
  return ONLY_AT[finding]?.includes(region) ?? true;
}

/** A finding that at least this share of healthy scalps shows says little by its absence. */
const USUAL_FROM = 0.5;

export interface Offered {
  /** By region, likeliest first. */
  readonly likely: Readonly<Record<string, readonly string[]>>;
  /** Findings that most healthy scalps of such a person show: never written as not seen unless somebody says so of that one. */
  readonly usual: readonly string[];
}

/** For each region the findings to offer first. */
export function likelyFindings(
  visit: Visit,
  measures: Measures,
  interpretation: Interpretation,
  knowledge: Knowledge,
): Offered {
  const cells = cellsFor(factsOf(visit, measures, knowledge));
  const suspected = suspicion(visit, interpretation);
  const ids = Object.keys(knowledge.findings);
  const ranked = (place: "eyebrow" | undefined): string[] =>
    ids
      .map((finding) => {
        const { frequencies } = cells.row(finding, "present", place);
        const score = cells.disorders.reduce(
          (sum, id, d) => sum + (suspected.get(id) ?? 0) * (frequencies[d] ?? 0),
          0,
        );
        return { finding, score };
      })
      .sort((a, b) => b.score - a.score || (a.finding < b.finding ? -1 : 1))
      .map(({ finding }) => finding);
  const onScalp = ranked(undefined);
  const onBrow = ranked("eyebrow");
  const offered = (region: Region) =>
    (region.endsWith("eyebrow") ? onBrow : onScalp)
      .filter((finding) => belongsAt(finding, region))
      .slice(0, MOST);
  return {
    likely: Object.fromEntries(REGIONS.map((region) => [region, offered(region)])),
    usual: ids.filter((finding) => cells.row(finding, "present", undefined).healthy.mean >= USUAL_FROM),
  };
}

/** How much each disorder is in view. */
function suspicion(visit: Visit, { disorders }: Interpretation): Map<string, number> {
  const found = new Map(disorders.map(({ id, leads }) => [id, leads + 0.002]));
  for (const { disorder, certainty } of visit.impression)
    found.set(disorder, (found.get(disorder) ?? 0) + (certainty === "excluded" ? 0 : OWN));
  return found;
}
