import { expect, it } from "vitest";
import { factsOf } from "../../src/interpret/facts.js";
import { ruleLines } from "../../src/interpret/rules.js";
import type { Condition } from "../../src/knowledge/condition.js";
import { smallKnowledge } from "./small-knowledge.js";
import { NO_MEASURES, type Shown, site, visitWith } from "./visits.js";

const small = smallKnowledge();
const HOOKS: Condition = { finding: "hooked-ends" };
const DOTS: Condition = { finding: "tar-dots" };

/** The patterns that speak when harbour loss has these, by id. */
function speaking(
  patterns: Record<string, readonly [Condition, number]>,
  findings: Record<string, Shown>,
  of = ["harbour-loss"],
) {
  const entries = Object.entries(patterns).map(([id, [when, weight]]) => ({
    id,
    when,
    weight,
    says: id,
    source: "common practice",
  }));
  const disorders = Object.fromEntries(
    Object.entries(small.disorders).map(([id, d]) => [
      id,
      { ...d, patterns: of.includes(id) ? entries : [] },
    ]),
  );
  const knowledge = { ...small, disorders };
  const facts = factsOf(visitWith({ sites: [site("vertex", findings)] }), NO_MEASURES, knowledge);
  return ruleLines(facts).map((l) => l.id);
}
const both = { "hooked-ends": "few", "tar-dots": "few" } as const;

it("of nested patterns the most specific speaks", () => {
  const nested: Parameters<typeof speaking>[0] = { one: [HOOKS, 1], two: [{ all: [HOOKS, DOTS] }, 2] };
  expect(speaking(nested, both)).toEqual(["two"]);
  expect(speaking(nested, { "hooked-ends": "few" })).toEqual(["one"]);
});

it("patterns that rest on the same, on different findings, or on none stand side by side", () => {
  expect(speaking({ one: [HOOKS, 1], two: [HOOKS, 2] }, both)).toEqual(["one", "two"]);
  expect(speaking({ one: [HOOKS, 1], two: [DOTS, 2] }, both)).toEqual(["one", "two"]);
  const silence: Condition = { not_assessed: "knot-gaps" };
  expect(speaking({ one: [silence, 1], two: [{ all: [HOOKS, DOTS] }, 2] }, both)).toEqual(["one", "two"]);
});

it("one that names more as alternatives is not more specific", () => {
  const either: Condition = { finding: ["hooked-ends", "pale-rings", "knot-gaps"] };
  expect(speaking({ one: [HOOKS, 1], two: [either, 2] }, { "hooked-ends": "few" })).toEqual(["one", "two"]);
});

it("one that speaks against is not replaced by one that speaks for", () => {
  expect(speaking({ one: [HOOKS, -1], two: [{ all: [HOOKS, DOTS] }, 2] }, both)).toEqual(["one", "two"]);
  expect(speaking({ one: [HOOKS, -1], two: [{ all: [HOOKS, DOTS] }, -2] }, both)).toEqual(["two"]);
});

it("nor one of another disorder", () => {
  expect(
    speaking({ one: [HOOKS, 1], two: [{ all: [HOOKS, DOTS] }, 2] }, both, ["harbour-loss", "net-scar"]),
  ).toEqual(["two", "two"]);
});
