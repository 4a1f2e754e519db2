import { describe, expect, it } from "vitest";
import { settledBy } from "../../src/interpret/closing-tests.js";
import { holds } from "../../src/interpret/conditions.js";
import { factsOf } from "../../src/interpret/facts.js";
import { besideHealthy } from "../../src/interpret/healthy.js";
import { begunBy, lastedWeeks, roughAge } from "../../src/interpret/since.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { entry, weighedFrom } from "./parts.js";
import { NO_MEASURES, type VisitParts, visitWith } from "./visits.js";

const of = (born: string, history: VisitParts["history"]) =>
  visitWith({ date: "2026-03-02", patient: { born }, ...(history ? { history } : {}) });

describe("how long it has lasted", () => {
  it("is what the history says in weeks, or the time since the age told", () => {
    expect(lastedWeeks(of("2016-01-01", { durationWeeks: 3, began: { weeksBefore: 9 } }))).toBe(3);
    expect(lastedWeeks(of("2016-01-01", { began: { weeksBefore: 9 } }))).toBe(9);
    expect(lastedWeeks(of("2016-01-01", { began: { ageYears: 4 } }))).toBe(6 * 52);
    expect(lastedWeeks(of("2016-01-01", { began: { ageYears: 11 } }))).toBe(0);
    expect(lastedWeeks(of("2016-01-01", { began: { when: "birth" } }))).toBe(10 * 52);
  });

  it("is not known without a year of birth or a word of it", () => {
    expect(roughAge(of("", {}))).toBeUndefined();
    expect(roughAge(of("2016-01-01", {}))).toBe(10);
    expect(lastedWeeks(of("", { began: { ageYears: 4 } }))).toBeUndefined();
    expect(lastedWeeks(of("2016-01-01", {}))).toBeUndefined();
  });
});

describe("begun by an age", () => {
  it("asks for that age and for half of life, or for birth", () => {
    expect(begunBy(of("2014-01-01", { durationWeeks: 6 * 52 }), 6)).toBe(true);
    expect(begunBy(of("2013-01-01", { durationWeeks: 7 * 52 }), 5.9)).toBe(false);
    expect(begunBy(of("2014-01-01", { durationWeeks: 6 * 52 - 1 }), 7)).toBe(false);
    expect(begunBy(of("1966-01-01", { began: { ageYears: 6 } }), 6)).toBe(true);
    expect(begunBy(of("1966-01-01", { began: { ageYears: 7 } }), 6)).toBe(false);
    expect(begunBy(of("", { began: { when: "birth" } }), 6)).toBe(true);
    expect(begunBy(of("", { durationWeeks: 500 }), 6)).toBe(false);
    expect(begunBy(of("2016-01-01", {}), 6)).toBe(false);
  });

  it("takes nothing as old that is new in an infant", () => {
    expect(begunBy(of("2026-01-01", { durationWeeks: 26 }), 6)).toBe(true);
    expect(begunBy(of("2026-01-01", { durationWeeks: 25 }), 6)).toBe(false);
  });
});

describe("an age at which it began tells as much as weeks do", () => {
  const at = (ageYears: number | undefined) =>
    factsOf(
      of("2016-01-01", ageYears === undefined ? {} : { began: { ageYears } }),
      NO_MEASURES,
      loadKnowledge(),
    );

  it("in conditions on a duration", () => {
    expect(holds({ duration_weeks_from: 52 }, at(9))).toBe(true);
    expect(holds({ duration_weeks_from: 53 }, at(9))).toBe(false);
    expect(holds({ duration_weeks_under: 53 }, at(9))).toBe(true);
    expect(holds({ duration_weeks_under: 52 }, at(9))).toBe(false);
    expect(holds({ duration_weeks_under: 999 }, at(undefined))).toBe(false);
    expect(holds({ duration_weeks_from: 0 }, at(undefined))).toBe(false);
  });

  it("for a test that counts only since the onset", () => {
    const settles = (ageYears: number) => {
      const visit = of("2016-01-01", { began: { ageYears } });
      const tests = [{ name: "RPR", result: "negative", date: "2025-06-01" }];
      return settledBy(["syphilis"], factsOf({ ...visit, tests }, NO_MEASURES, loadKnowledge())).length === 1;
    };
    expect(settles(9)).toBe(true);
    expect(settles(10)).toBe(false);
  });

  it("as a complaint, which no healthy scalp has", () => {
    const { why } = besideHealthy(at(9), weighedFrom({ entries: [entry("tar-dots", [0, 0, 0])] }), 0, false);
    expect(why).toBe("A complaint or sign of hair loss is recorded.");
  });
});

it("a child whose loss fills its life has it since childhood without a word of it", () => {
  const stated = (weeks: number) =>
    factsOf(of("2019-01-01", { durationWeeks: weeks }), NO_MEASURES, loadKnowledge()).stated.get(
      "since-childhood",
    );
  expect(stated(360)).toEqual([{ yes: true, where: "history" }]);
  expect(stated(20)).toBeUndefined();
});
