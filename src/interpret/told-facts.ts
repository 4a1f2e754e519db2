/** Facts of the visit that studies or the trade count by disorder -> entries that weigh as findings do. */
import type { Fact } from "../knowledge/schema.js";
import { bearing } from "./conditions.js";
import type { Facts } from "./facts.js";
import type { FactEntry } from "./picture.js";

/** What is seen of the patient, unlike what is told of the past. */
const EXAMINED: readonly Fact["kind"][] = ["pattern", "sign"];

/**
 * Recorded facts, and those that free text speaks for; in order of id. An answer outranks words, and words deny nothing. With `site`,
 * those of that site alone.
 */
export function toldFacts(facts: Facts, site?: number): FactEntry[] {
  return Object.values(facts.knowledge.facts).flatMap((fact): FactEntry[] => {
    if (Object.keys(fact.evidence).length === 0) return [];
    const { stated, read } = bearing(fact.id, facts, site);
    const here = site === undefined ? stated : stated.filter((s) => s.site === site);
    const words = read.filter(
      (r) => r.state === "present" && (site === undefined || r.where.startsWith("sites[")),
    );
    if (here.length === 0 && (stated.length > 0 || words.length === 0)) return [];
    const yes = here.length === 0 || here.some((s) => s.yes);
    return [
      {
        kind: "fact",
        id: fact.id,
        state: yes ? "present" : "absent",
        examined: EXAMINED.includes(fact.kind),
        words: here.length === 0,
      },
    ];
  });
}
