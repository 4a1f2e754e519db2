import { describe, expect, it } from "vitest";
import { clauses, mentionsAny, phraseOf } from "../../src/interpret/clauses.js";
import { loadKnowledge } from "../../src/knowledge/load.js";

const { denial } = loadKnowledge().weighing;
const says = (text: string, phrase: string) => mentionsAny(clauses(text, denial), [phraseOf(phrase)], denial);

describe("words in free text", () => {
  it.each([
    ["Wears tight braids at work", "braids"],
    ["Wears Tight-Braids", "tight braids"],
    ["metastatic breast cancer", "metast*"],
    ["no itch. Burning at night", "burning"],
    ["no pain but itch at the nape", "itch"],
    ["two siblings with scaly patches", "siblings"],
  ])("finds in %j: %s", (text, phrase) => {
    expect(says(text, phrase)).toBe(true);
  });

  it.each([
    ["no tight braids", "braids"],
    ["Denies pulling or twisting", "pulling"],
    ["denies pulling or twisting", "twisting"],
    ["never wore braids", "braids"],
    ["serology negative for syphilis", "syphilis"],
    ["without itch", "itch"],
    ["upbraids the receptionist", "braids"],
    ["itchy", "itch"],
  ])("does not find in %j: %s", (text, phrase) => {
    expect(says(text, phrase)).toBe(false);
  });

  it("finds a phrase that itself begins with a denial", () => {
    expect(says("No growth after four weeks", "no growth")).toBe(true);
  });
});
