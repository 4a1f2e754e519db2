/** A recorded test settles a line only when it is of the right specimen, taken since the loss began, and has a result. */
import { describe, expect, it } from "vitest";
import { settledBy } from "../../src/interpret/closing-tests.js";
import { factsOf } from "../../src/interpret/facts.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { visitWith } from "./visits.js";

const knowledge = loadKnowledge();
const NO_MEASURES = { measured: [], notMeasured: [], rules: [] };
const VISIT = visitWith({});

function settles(id: string, test: object, weeks: number | null = 10): boolean {
  const history = { ...VISIT.history, ...(weeks === null ? {} : { durationWeeks: weeks }) };
  const visit = { ...VISIT, date: "2026-03-12", history, tests: [test] } as typeof VISIT;
  return settledBy([id], factsOf(visit, NO_MEASURES, knowledge)).length === 1;
}

describe("tests that settle a line", () => {
  it.each([
    ["fungal", { name: "fungal culture", result: "negative" }, true],
    ["fungal", { name: "toenail clippings for fungus", result: "negative" }, false],
    ["fungal", { name: "mycology", result: "nail: no growth" }, false],
    ["fungal", { name: "mycology, scalp and nail", result: "no growth" }, true],
    ["fungal", { name: "scraping of the groin", result: "no hyphae" }, false],
    ["fungal", { name: "mycology", result: "insufficient material" }, false],
    ["fungal", { name: "mycology", result: "interim: no growth" }, false],
    ["fungal", { name: "mycology", result: "awaited" }, false],
    ["fungal", { name: "bacterial scraping", result: "no growth" }, false],
    ["biopsy", { name: "biopsy", result: "lichen planopilaris" }, true],
    ["biopsy", { name: "biopsy of the forearm", result: "eczema" }, false],
    ["biopsy", { name: "punch biopsy", result: "inadequate, no follicle" }, false],
    ["biopsy", { name: "biopsy of the vertex", result: "no scar; forearm healed" }, true],
    ["biopsy", { name: "biopsy", result: "declined" }, false],
    ["syphilis", { name: "RPR", value: 32 }, true],
    ["syphilis", { name: "HIV test", result: "negative" }, false],
    ["syphilis", { name: "partner's RPR", result: "negative" }, false],
    ["syphilis", { name: "RPR, partner", result: "negative" }, false],
    ["syphilis", { name: "husband RPR", result: "negative" }, false],
    ["syphilis", { name: "syphilis serology at booking", result: "negative" }, false],
  ])("%s: %j settles it: %s", (id, test, expected) => {
    expect(settles(id, test)).toBe(expected);
  });

  it.each([
    ["2026-01-01", 10, true],
    ["2025-12-31", 10, false],
    ["2025-12-11", null, true],
    ["2025-12-10", null, false],
  ])("taken on %s with loss for %s weeks settles it: %s", (date, weeks, expected) => {
    expect(settles("syphilis", { name: "RPR", result: "negative", date }, weeks)).toBe(expected);
  });

  it.each([
    ["RPR", "negative in 2024", false],
    ["RPR", "negative in 2026", true],
    ["RPR 2023", "negative", false],
  ])("reads a year where there is no day: %s %s", (name, result, expected) => {
    expect(settles("syphilis", { name, result })).toBe(expected);
  });
});
