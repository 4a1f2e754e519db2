/** The order in which sites and findings stand in the file means nothing. */
import fc from "fast-check";
import { expect, it } from "vitest";
import { interpret } from "../../src/interpret/interpret.js";
import type { Visit } from "../../src/visit/visit.js";
import { NO_MEASURES } from "../interpret/visits.js";
import { runs } from "../runs.js";
import { anyVisit, knowledge } from "./interpret-visits.js";

it("sites and findings may stand in any order", () => {
  fc.assert(
    fc.property(anyVisit, (visit) => {
      const turned: Visit = {
        ...visit,
        sites: visit.sites.map((s) => ({ ...s, findings: [...s.findings].reverse() })).reverse(),
      };
      const [there, back] = [visit, turned].map((v) => interpret(v, NO_MEASURES, knowledge));
      // The views of single sites follow the file's own order.
      expect({ ...back, sites: [] }).toEqual({ ...there, sites: [] });
    }),
    { numRuns: runs(25) },
  );
});
