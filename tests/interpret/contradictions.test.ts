/** Parts of one interpretation never speak against each other, whatever was recorded. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { interpret } from "../../src/interpret/interpret.js";
import { BANDS } from "../../src/interpret/interpretation.js";
import { anyVisit, knowledge } from "../properties/interpret-visits.js";
import { runs } from "../runs.js";
import { NO_MEASURES, site, visitWith } from "./visits.js";

it("holds for any visit", () => {
  fc.assert(
    fc.property(anyVisit, (visit) => {
      const i = interpret(visit, NO_MEASURES, knowledge);
      const [first, next] = i.disorders;
      expect(i.second?.id).not.toBe(first?.id);
      const excluded = visit.impression.filter((x) => x.certainty === "excluded").map((x) => x.disorder);
      for (const a of i.activity) expect(excluded).not.toContain(a.disorder);
      const assessed = visit.sites.flatMap((s) => s.findings.map((f) => f.finding));
      for (const l of i.lookNext) expect(assessed).not.toContain(l.lookFor);
      if (first && next && next.id !== i.second?.id) {
        expect(BANDS.indexOf(first.band)).toBeLessThanOrEqual(BANDS.indexOf(next.band));
      }
      const strong = i.disorders.filter((d) => d.band === "strongly supported");
      expect(strong.length).toBeLessThanOrEqual(1);
    }),
    { numRuns: runs(40) },
  );
});

it("says no activity of a disorder that the clinician has excluded, though it leads", () => {
  const visit = visitWith({
    sites: [site("vertex", { "exclamation-mark-hairs": "many", "yellow-dots": "many" })],
    impression: [{ disorder: "alopecia-areata", certainty: "excluded" }],
  });
  const i = interpret(visit, NO_MEASURES, knowledge);
  expect(i.disorders[0]?.id).toBe("alopecia-areata");
  expect(i.activity).toEqual([]);
  const held = interpret({ ...visit, impression: [] }, NO_MEASURES, knowledge);
  expect(held.activity.map((a) => a.disorder)).toEqual(["alopecia-areata"]);
});
