/** Where the scalp map of a letter stands: beside the history, or across the page where it would leave a hole there. */
import { expect, it } from "vitest";
import type { PlannedMap } from "../../src/diagram/diagram.js";
import { placeMap } from "../../src/letter/letter-map.js";
import type { LetterFacts } from "../../src/letter/variables.js";

const factsOf = (letters: number) =>
  ({
    history: {},
    visit: { reason: "x".repeat(letters) },
    patient: { age: "", sex: "" },
    tests: [],
    examination: {},
    scope: "",
    notAssessed: [],
    measurementTables: [{}],
  }) as unknown as LetterFacts;

/** Views stand over each other where the map is narrow. */
const mapAt = (narrow: number) => (width: number) =>
  ({ height: width < 400 ? narrow : 140 }) as unknown as PlannedMap;

it("stands beside a history about as tall, and across the page where a short one would leave a hole", () => {
  expect(placeMap(factsOf(500), mapAt(245)).widths).not.toBe("");
  expect(placeMap(factsOf(100), mapAt(245)).widths).toBe("");
  expect(placeMap(factsOf(100), mapAt(120)).widths).not.toBe("");
  expect(placeMap(factsOf(900), mapAt(260)).widths).toBe("");
});
