/** Charts of the progress sheet: a grade stands on all of its scale, so that one step looks like one step. */
import { expect, test } from "vitest";
import { progressFacts } from "../../src/letter/change-facts.js";
import type { Drawing } from "../../src/letter/document.js";
import { SourceList } from "../../src/letter/measurements.js";
import { loadPack } from "../../src/letter/pack.js";
import { compareVisits } from "../../src/measure/change/compare.js";
import { visit } from "../measure/visit-for-tests.js";
import { knowledge } from "./compose.js";

test("a stage of seven is drawn from 0 to beyond 7 in whole steps", () => {
  const { pack } = loadPack("en-GB");
  const graded = [3, 3, 4].map((stage, i) =>
    visit({ id: `TS-${i}`, date: `2026-0${i + 1}-15`, scores: { "hamilton-norwood": { stage } } }),
  );
  const { value } = compareVisits(graded, knowledge);
  if (!pack || !value) throw new Error("nothing to draw");
  const drawings: Record<string, Drawing> = {};
  progressFacts(pack.words, knowledge, value, new SourceList(knowledge.sources), drawings);
  const svg = drawings["chart:0"]?.() ?? "";
  const figures = [...svg.matchAll(/>(\d+(?:\.\d+)?)</gu)].map((m) => m[1]);
  expect(figures).toEqual(["0", "2", "4", "6", "8", "3", "3", "4"]);
});
