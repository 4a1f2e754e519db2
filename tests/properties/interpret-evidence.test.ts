/** More evidence for a disorder never lowers it among the others. */
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { cellsFor, expected } from "../../src/interpret/cells.js";
import { factsOf } from "../../src/interpret/facts.js";
import { interpret } from "../../src/interpret/interpret.js";
import type { Interpretation } from "../../src/interpret/interpretation.js";
import { NO_LESSONS } from "../../src/knowledge/lessons-schema.js";
import { AMOUNTS, type Visit } from "../../src/visit/visit.js";
import { NO_MEASURES } from "../interpret/visits.js";
import { runs } from "../runs.js";
import { anyVisit, findingIds, knowledge, withFinding, without } from "./interpret-visits.js";

const RUNS = { numRuns: runs(30) };
const read = (visit: Visit) => interpret(visit, NO_MEASURES, knowledge);
/** By evidence alone: patterns, context and what cases taught may speak for another disorder. */
const plainly = { ...knowledge, lessons: NO_LESSONS };
const readPlainly = (visit: Visit) =>
  interpret(visit, NO_MEASURES, plainly, { ablate: { patterns: false, context: false } });

function rank(i: Interpretation, id: string): number {
  const score = i.disorders.find((d) => d.id === id)?.score ?? Number.NaN;
  return i.disorders.filter((d) => d.score > score + 1e-9).length;
}

/** The disorder in which the finding is most to be expected in this patient. */
function owner(visit: Visit, finding: string): string {
  const cells = cellsFor(factsOf(visit, NO_MEASURES, knowledge));
  const row = cells.row(finding, "present", undefined);
  const chance = row.cells.map((c) => expected(c.a, c.b, row.average, knowledge));
  return cells.disorders[chance.indexOf(Math.max(...chance))] ?? "";
}

/** Signs that studies report in one disorder alone and that we expect nowhere else. */
const own = findingIds.filter((id) => {
  const reported = Object.values(knowledge.disorders).filter((d) =>
    d.evidence[id]?.some((r) => r.unit === undefined && (r.positive ?? r.percent ?? 1) > 0),
  );
  return reported.length === 1 && (knowledge.findings[id]?.elsewhere.percent[1] ?? 100) <= 2;
});

describe("supporting evidence", () => {
  it("never lowers the rank of the disorder it speaks for most", () => {
    fc.assert(
      fc.property(
        anyVisit,
        fc.constantFrom(...findingIds),
        fc.constantFrom(...AMOUNTS),
        (visit, finding, amount) => {
          const bare = without(visit, finding);
          const d = owner(bare, finding);
          const before = rank(readPlainly(bare), d);
          const after = readPlainly(withFinding(bare, finding, { state: "present", amount }));
          expect(rank(after, d)).toBeLessThanOrEqual(before);
        },
      ),
      RUNS,
    );
  });

  it("holds with patterns and context for signs that are one disorder's own", () => {
    expect(own.length).toBeGreaterThan(2);
    fc.assert(
      fc.property(anyVisit, fc.constantFrom(...own), (visit, finding) => {
        const bare = without(visit, finding);
        const d = owner(bare, finding);
        const after = read(withFinding(bare, finding, { state: "present", amount: "several" }));
        expect(rank(after, d)).toBeLessThanOrEqual(rank(read(bare), d));
      }),
      RUNS,
    );
  });

  it("more of such a sign never lowers its disorder", () => {
    fc.assert(
      fc.property(anyVisit, fc.constantFrom(...own), fc.nat(3), (visit, finding, step) => {
        const bare = without(visit, finding);
        const d = owner(bare, finding);
        const [less, more] = [AMOUNTS[step] ?? "single", AMOUNTS[step + 1] ?? "throughout"];
        const before = read(withFinding(bare, finding, { state: "present", amount: less }));
        const after = read(withFinding(bare, finding, { state: "present", amount: more }));
        const score = (i: Interpretation) => i.disorders.find((x) => x.id === d)?.score ?? Number.NaN;
        expect(score(after)).toBeGreaterThanOrEqual(score(before));
        expect(rank(after, d)).toBeLessThanOrEqual(rank(before, d));
      }),
      RUNS,
    );
  });
});
