import fc from "fast-check";
import { expect, it } from "vitest";
import { evaluateVisit } from "../../src/batch/examine.js";
import { makeDocuments } from "../../src/batch/make.js";
import type { Visit } from "../../src/visit/visit.js";
import { around, exampleFiles, knowledge } from "../examples/all-examples.js";
import { runs } from "../runs.js";
import { visits } from "./visit-arbitrary.js";

/** What may rightly keep a valid visit from paper: words beyond all bounds. */
const FAIR = new Set(["too-many-pages"]);

/** The same visit in letters every face has, without photos, with somebody to write to. */
function settable(visit: Visit): Visit {
  const latin = JSON.stringify(visit).replace(/[^\u0020-\u007e\u00a1-\u017f]/gu, "a");
  const plain: Visit = JSON.parse(latin);
  const sendTo =
    plain.sendTo.length > 0
      ? plain.sendTo
      : [
          {
            role: "general practitioner",
            name: "Dr Ilse Brandt",
            address: ["Quayside Practice"],
            copy: false,
          },
        ];
  return {
    ...plain,
    patient: { ...plain.patient, language: "en-GB" },
    sendTo: sendTo.slice(0, 2),
    sites: plain.sites.map((site) => ({ ...site, photos: [] })),
    // A visit file takes no more.
    impression: plain.impression.slice(0, 20),
  };
}

it("any valid visit gives a letter and a handout, or a fair reason why not", async () => {
  const file = exampleFiles[0] ?? "";
  const { clinic } = around.clinics.of(file);
  if (!clinic) throw new Error("no clinic");
  let made = 0;
  await fc.assert(
    fc.asyncProperty(visits(knowledge), async (any) => {
      const visit = settable(any);
      const examined = { file, ...evaluateVisit(visit, { knowledge, clinic }) };
      const result = await makeDocuments(examined, {
        knowledge,
        clinic,
        documents: ["referral-letter", "handout"],
        format: "pdf",
      });
      const errors = result.problems.filter((p) => p.severity === "error" && !FAIR.has(p.id));
      expect(errors).toEqual([]);
      made += result.made.length;
    }),
    { numRuns: runs(12) },
  );
  expect(made).toBeGreaterThan(runs(12));
});
