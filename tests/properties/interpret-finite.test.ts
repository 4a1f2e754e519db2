/** No visit produces a number that is not one, an infinity, or a chance outside 0 to 1. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { agreementProblems, explainJson, interpret } from "../../src/interpret/interpret.js";
import { BANDS } from "../../src/interpret/interpretation.js";
import { NO_MEASURES } from "../interpret/visits.js";
import { runs } from "../runs.js";
import { anyVisit, knowledge } from "./interpret-visits.js";

function everyNumber(value: unknown, check: (n: number) => void): void {
  if (typeof value === "number") check(value);
  else if (value && typeof value === "object") for (const v of Object.values(value)) everyNumber(v, check);
}

it("all numbers are finite, shares lie between 0 and 1, and every disorder has a band", () => {
  fc.assert(
    fc.property(anyVisit, (visit) => {
      const i = interpret(visit, NO_MEASURES, knowledge);
      everyNumber(i, (n) => expect(Number.isFinite(n)).toBe(true));
      // A healthy scalp is an impression, never a hypothesis.
      const weighed = Object.values(knowledge.disorders).filter((d) => d.family !== "healthy");
      expect(i.disorders.map((d) => d.id).sort()).toEqual(weighed.map((d) => d.id).sort());
      for (const d of i.disorders) {
        expect(BANDS).toContain(d.band);
        expect(d.leads).toBeGreaterThanOrEqual(0);
        expect(d.leads).toBeLessThanOrEqual(1);
        for (const r of [...d.for, ...d.against]) {
          if (!r.frequency) continue;
          const { low, mean, high } = r.frequency;
          expect(low).toBeGreaterThanOrEqual(0);
          expect(low).toBeLessThanOrEqual(mean + 1e-3);
          expect(mean).toBeLessThanOrEqual(high + 1e-3);
          expect(high).toBeLessThanOrEqual(1);
        }
      }
      expect(i.disorders.reduce((sum, d) => sum + d.leads, 0)).toBeCloseTo(1, 1);
      expect(i.assessedShare).toBeLessThanOrEqual(1);
      expect(i.lookNext.length).toBeLessThanOrEqual(5);
      for (const l of i.lookNext) expect(l.bits).toBeGreaterThan(0);
      // Plain data all the way, and the problems too.
      expect(JSON.parse(JSON.stringify(i))).toEqual(i);
      expect(JSON.stringify(explainJson(i, NO_MEASURES))).not.toContain("null,null");
      for (const p of agreementProblems(visit, NO_MEASURES, i, knowledge)) {
        expect(["note", "warning"]).toContain(p.severity);
      }
    }),
    { numRuns: runs(30) },
  );
});
