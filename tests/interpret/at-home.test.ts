/** What names a private line: kept from the sheet that goes home, told to the clinician, and caught where it is printed all the same. */
import { describe, expect, it } from "vitest";
import type { ProofInput } from "../../src/batch/proof/proof-input.js";
import { planFaults } from "../../src/batch/proof/record.js";
import { tokensOf } from "../../src/batch/token-text.js";
import { forHome, isPrivate } from "../../src/interpret/at-home.js";
import { factsOf } from "../../src/interpret/facts.js";
import { interpret } from "../../src/interpret/interpret.js";
import { safetyProblems } from "../../src/interpret/safety-problems.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { loadPack } from "../../src/letter/pack.js";
import { NO_MEASURES, visitWith } from "./visits.js";

const knowledge = loadKnowledge();
const visit = visitWith({
  plan: [
    { who: "clinic", action: "Treponemal test today." },
    { who: "clinic", action: "Count the hairs again." },
    { who: "clinic", action: "Jugendamt informiert." },
  ],
  tests: [
    { name: "RPR", result: "awaited" },
    { name: "ferritin", result: "48 ug/L" },
    { name: "blood test", result: "syphilis not found" },
  ],
});

describe("what stays out of the sheet that goes home", () => {
  it.each([
    ["Lues serology", true],
    ["Kein Verdacht auf Misshandlung", true],
    ["No abuse", true],
    ["Blood test for the thyroid", false],
    ["Wash gently", false],
    ["Tell us at once about sexual side effects or low mood", false],
    ["In 2 Std. anrufen", false],
    ["Have the gums looked at", false],
  ])("%s: %s", (text, expected) => {
    expect(isPrivate(text, knowledge)).toBe(expected);
  });

  it("is every line of the plan and every test that names it, in name or result", () => {
    const told = forHome(visit, knowledge);
    expect(told.plan.map((l) => l.action)).toEqual(["Count the hairs again."]);
    expect(told.tests.map((t) => t.name)).toEqual(["ferritin"]);
  });

  it("is told to the clinician at its place", () => {
    const found = safetyProblems(
      factsOf(visit, NO_MEASURES, knowledge),
      interpret(visit, NO_MEASURES, knowledge),
    );
    expect(found.flatMap((p) => (p.id === "kept-from-handout" ? [[p.path, p.severity]] : []))).toEqual([
      ["plan[0].action", "note"],
      ["plan[2].action", "note"],
      ["tests[0].name", "note"],
      ["tests[2].name", "note"],
    ]);
  });

  it("is a fault where a handout prints it, and where a letter does not", () => {
    const { pack } = loadPack("en-GB");
    const faults = (reader: "patient" | "doctor", printed: string) =>
      planFaults({ visit, reader, knowledge, pack } as unknown as ProofInput, tokensOf(printed)).map(
        (f) => /\((.*)\)$/u.exec(f.message)?.[1],
      );
    const all = visit.plan.map((l) => l.action).join(" ");
    expect(faults("patient", "Count the hairs again.")).toEqual([]);
    expect(faults("patient", all)).toEqual(["line 1 of the plan", "line 3 of the plan"]);
    expect(faults("doctor", all)).toEqual([]);
    expect(faults("doctor", "Count the hairs again.")).toEqual(["line 1 of the plan", "line 3 of the plan"]);
  });
});
