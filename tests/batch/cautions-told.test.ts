/** Cautions that a handout must hold: those it may tell, and no others. */
import { expect, it } from "vitest";
import type { ProofInput } from "../../src/batch/proof/proof-input.js";
import { cautionFaults } from "../../src/batch/proof/record.js";
import { tokensOf } from "../../src/batch/token-text.js";
import { interpret } from "../../src/interpret/interpret.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { NO_MEASURES, visitWith } from "../interpret/visits.js";

const knowledge = loadKnowledge();

it("misses in a handout what asks for an open line, not once the line is closed", () => {
  const visit = visitWith({
    asked: { "medicine-taken-too-often": { answer: true } },
    history: { medicines: [{ name: "methotrexate" }] },
  } as never);
  const interpretation = interpret(visit, NO_MEASURES, knowledge);
  expect(interpretation.mustNotMiss.map((m) => m.id)).toContain("drug-toxicity");
  const faults = (closed: boolean) => {
    const mustNotMiss = interpretation.mustNotMiss.map((m) => ({
      ...m,
      closedBy: closed ? { kind: "answer" as const, says: "" } : null,
    }));
    const input = { visit, measures: NO_MEASURES, knowledge, reader: "patient" };
    const read = { ...input, interpretation: { ...interpretation, mustNotMiss } } as unknown as ProofInput;
    return cautionFaults(read, tokensOf("Nothing of it.")).some((f) => f.message.includes("drug-toxicity"));
  };
  expect([faults(false), faults(true)]).toEqual([true, false]);
});
