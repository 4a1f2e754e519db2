/** Whose names and numbers stand in a text: every way they may be printed, and what is nobody's. */
import { describe, expect, it } from "vitest";
import { PatientIndex } from "../../../src/batch/proof/patient-index.js";
import { tokensOf } from "../../../src/batch/token-text.js";

const person = (patient: string, given: string, family: string, visit = `V-${patient}`) => ({
  patient,
  visit,
  given,
  family,
});
const found = (
  people: readonly ReturnType<typeof person>[],
  text: string,
  allowed: readonly string[] = [],
  own = "OWN-1",
) => new PatientIndex(people).othersIn(tokensOf(text), own, allowed.map(tokensOf));

describe("a person of the run", () => {
  const quill = person("TS-99999", "Jürgen", "Quill", "TS-2027-00009");
  it.each([
    ["Jürgen Quill", true],
    ["Quill, Juergen", true],
    ["JURGEN K. QUILL", true],
    ["Jürgen, a quill", true],
    ["Jürgen and Quill", false],
    ["Quill", false],
    ["TS-99999", true],
    ["TS99999", true],
    ["99999", false],
    ["TS 2027 00009", true],
    ["ts202700009", true],
    ["2027-00009", false],
  ])("stands in %s: %s", (text, isThere) => {
    expect(found([quill], text)).toEqual(isThere ? ["TS-2027-00009"] : []);
  });

  it("is not told in his own document, nor where the name is part of one that may stand there", () => {
    expect(found([quill], "Jürgen Quill", [], "TS-99999")).toEqual([]);
    expect(found([quill], "Dr Jürgen Quill-Lund", ["Dr Jürgen Quill-Lund"])).toEqual([]);
    expect(found([quill], "Jürgen Quill", ["Jürgen Lund", "Quill"])).toEqual(["TS-2027-00009"]);
  });

  it("without one of his names is known by his numbers alone", () => {
    for (const nameless of [
      person("TS-99999", "", "Quill"),
      person("TS-99999", "Ivo", ""),
      person("TS-99999", "", ""),
    ]) {
      expect(found([nameless], "Ivo Quill")).toEqual([]);
      expect(found([nameless], "TS-99999")).toEqual(["V-TS-99999"]);
    }
  });

  it("is not looked for by a number that is short, or no number at all", () => {
    expect(found([person("12-34", "A", "B", "x")], "12 34 1234")).toEqual([]);
    expect(found([person("12-345", "A", "B", "x")], "12345")).toEqual(["x"]);
    expect(found([person("harbour", "A", "B", "x")], "the harbour")).toEqual([]);
  });

  it("is told once a visit, all of them in order, and long names also where a line breaks them", () => {
    const people = [
      person("P-22222", "Ada", "Lind", "V-2"),
      person("P-11111", "Ivo", "Bretterschneider", "V-1"),
    ];
    expect(found(people, "Ada Lind, P-22222, Ivo Bretter schneider")).toEqual(["V-1", "V-2"]);
    expect(found([...people, ...people], "Ada Lind")).toEqual(["V-2"]);
  });
});
