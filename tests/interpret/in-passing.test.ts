/** What the record names in passing is put as a question, and raises nothing until it is answered. */
import { expect, it } from "vitest";
import { interpret } from "../../src/interpret/interpret.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { NO_MEASURES, visitWith } from "./visits.js";

const knowledge = loadKnowledge();
const WORDS = "Voice went deep at choir, always husky, jokes. Periods regular for years, fine and well.";
const seen = (notes: string, asked: Record<string, boolean> = {}) =>
  interpret(visitWith({ asked, history: { ...visitWith({}).history, notes } }), NO_MEASURES, knowledge);

it("asks what was named in passing, with the words, and raises no line", () => {
  const { mustNotMiss, askedFor, readFromWords } = seen(WORDS);
  expect(mustNotMiss.map((m) => m.id)).not.toContain("virilisation");
  expect(readFromWords.find((r) => r.fact === "fast-virilisation")?.state).toBe("harmless");
  expect(askedFor.find((a) => a.id === "fast-virilisation")?.why).toBe(
    "The record says “Voice went deep”, in passing as it seems.",
  );
});

it("asks nothing of what is told of another person", () => {
  const { askedFor, readFromWords } = seen("Her sister's voice went deep last year.");
  expect(readFromWords.find((r) => r.fact === "fast-virilisation")?.state).toBe("other person");
  expect(askedFor.map((a) => a.id)).not.toContain("fast-virilisation");
});

it("asks no more once it is answered, and raises the line on a yes", () => {
  expect(seen(WORDS, { "fast-virilisation": false }).askedFor.map((a) => a.id)).not.toContain(
    "fast-virilisation",
  );
  expect(seen(WORDS, { "fast-virilisation": true }).mustNotMiss.map((m) => m.id)).toContain("virilisation");
});

it("raises the line where the danger is told", () => {
  const { mustNotMiss } = seen("Voice went deep since May, periods stopped, beard growing fast.");
  expect(mustNotMiss.map((m) => m.id)).toContain("virilisation");
});
