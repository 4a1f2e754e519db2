/** Single values as a form takes them: the same rules and the same words as in a file. */
import { describe, expect, test } from "vitest";
import { readKey } from "../../src/visit/read-key.js";
import { testKnowledge } from "./test-knowledge.js";

const read = (path: (string | number)[], written: string) => readKey(testKnowledge, path, written);

describe("a value of a form", () => {
  test.each([
    [["patient", "born"], " 1997-06-25 ", "1997-06-25"],
    [["patient", "id"], "TS-40417", "TS-40417"],
    [["patient", "sex"], "Female", "female"],
    [["sites", 0, "site"], "crown", "vertex"],
    [["sites", 3, "patch", "length_mm"], "32", 32],
    [["history", "past"], "eczema", ["eczema"]],
    [["history", "notes"], "", undefined],
  ] as const)("%j takes %j", (path, written, value) => {
    expect(read([...path], written)).toEqual(value === undefined ? {} : { value });
  });

  test.each([
    [["patient", "born"], "25/06/97", `"25/06/97" gives the year in two figures`, undefined],
    [["patient", "born"], "25/06/1997", `"25/06/1997" is not written as year-month-day`, "1997-06-25"],
    [["visit", "date"], "tomorrow", `"tomorrow" is not a date`, undefined],
    [["visit", "date"], "2026-02-30", "there is no 2026-02-30", undefined],
    [["patient", "id"], "ZZ 1/2", `"/" cannot stand in an id, which also names the files`, undefined],
    [
      ["sites", 0, "site"],
      "parietal",
      `"parietal" is not a region of the scalp`,
      "left parietal or right parietal",
    ],
    [["visit", "date"], " ", "the day of the visit is missing", undefined],
    [["sites", 1, "patch", "width_mm"], "", "the width of the patch is missing", undefined],
  ] as const)("%j refuses %j", (path, written, message, suggestion) => {
    const { value, problem } = read([...path], written);
    expect([value, problem?.message, problem?.suggestion]).toEqual([undefined, message, suggestion]);
  });

  test("has a key of the format", () => {
    expect(() => read(["patient", "height"], "1")).toThrow("no such key in a visit file: patient.height");
  });
});
