/** Made-up visits drawn from published frequencies: a healthy scalp is seldom called anything, and alarms and biopsies stay away. */
import { describe, expect, it } from "vitest";
import { interpret } from "../../src/interpret/interpret.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { NO_MEASURES } from "../interpret/visits.js";
import { LONG } from "../runs.js";
import { healthyVisit } from "./simulate.js";

const knowledge = loadKnowledge();
const VISITS = LONG ? 1080 : 120;
const SUPPORTED = ["supported", "strongly supported"];

describe.each([
  ["what is present alone", false],
  ["what is absent as well", true],
])("healthy scalps with %s recorded", (_, absences) => {
  const read = Array.from({ length: VISITS }, (_v, i) =>
    interpret(healthyVisit(`scalp ${i}`, absences, knowledge).visit, NO_MEASURES, knowledge),
  );

  it("support a disorder in at most three of a hundred", () => {
    const supported = read.filter((i) => SUPPORTED.includes(i.disorders[0]?.band ?? ""));
    expect(supported.length).toBeLessThanOrEqual(0.03 * VISITS);
  });

  it("raise an alarm in at most five of a hundred", () => {
    expect(read.filter((i) => i.mustNotMiss.length > 0).length).toBeLessThanOrEqual(0.05 * VISITS);
  });

  it("have no biopsy among the first things to do, unless a disorder is supported", () => {
    const wounded = read.filter(
      (i) =>
        !SUPPORTED.includes(i.disorders[0]?.band ?? "") &&
        i.mustNotMiss.length === 0 &&
        i.lookNext.some((l) => /biops|histolog|trichogram/u.test(l.lookFor)),
    );
    expect(wounded).toEqual([]);
  });

  it("are seldom said to show psoriasis", () => {
    const psoriasis = read.filter(
      (i) => i.disorders[0]?.id === "scalp-psoriasis" && i.disorders[0].band !== "unlikely",
    );
    expect(psoriasis.length).toBeLessThanOrEqual(0.05 * VISITS);
  });
});
