import { describe, expect, test } from "vitest";
import { meantBy } from "../../src/visit/meant.js";
import { plainWords, vocabulary } from "../../src/visit/vocabulary.js";
import { wordPattern } from "../../src/visit/word-pattern.js";

const words = vocabulary("a finding", [
  { id: "blue-grey-dots", term: "blue-grey dots" },
  { id: "follicular-microhaemorrhage", term: "follicular microhaemorrhage" },
  { id: "hair-casts", term: "hair casts", also: ["pseudonits"] },
  { id: "brush-breaks", term: "brush breaks" },
  { id: "yellow-dots", term: "yellow dots" },
]);

const accepted: [string, string][] = [
  ["Blue-Grey Dots", "blue-grey-dots"],
  ["blue gray dot", "blue-grey-dots"],
  ["BLUE_GREY_DOTS", "blue-grey-dots"],
  ["blue\u2011grey  dots", "blue-grey-dots"],
  ["follicular microhemorrhages", "follicular-microhaemorrhage"],
  ["Pseudonit", "hair-casts"],
  [" yellow dots ", "yellow-dots"],
  ["yellow-dot", "yellow-dots"],
];
const refused = ["yelow dots", "yellow", "dots", "yellow dots few", "yellowdots", "", "__proto__"];

describe("a vocabulary", () => {
  test.each(accepted)("takes %s", (word, id) => {
    expect(words.find(word)).toBe(id);
  });
  test.each(refused)("refuses %j", (word) => {
    expect(words.find(word)).toBeUndefined();
  });
  test("suggests the nearest spelling, and nothing for a far word", () => {
    expect(words.near("yelow dots")).toEqual(["yellow dots"]);
    expect(words.near("seudonits")).toEqual(["pseudonits"]);
    expect(words.near("crooked lamp posts")).toEqual([]);
  });
  test("leaves a plural alone that would mean two things", () => {
    const two = plainWords("a word", ["cast", "casts"]);
    expect([two.find("cast"), two.find("casts")]).toEqual(["cast", "casts"]);
  });
  test("gives its JSON pattern the same taste", () => {
    const pattern = new RegExp(wordPattern(words.spellings), "u");
    for (const [word] of accepted) expect(word).toMatch(pattern);
    for (const word of refused) expect(word).not.toMatch(pattern);
  });
});

describe("the pattern of exact words", () => {
  const exact = new RegExp(wordPattern(["v-1", "far boxes"], "exact"), "u");
  test.each(["V-1", "v-1", " V-1 ", "far boxes", "FAR   boxes"])("takes %j", (word) => {
    expect(word).toMatch(exact);
  });
  test.each(["V 1", "V-1s", "far box", "fars boxes", "V-12", "xV-1"])("refuses %j", (word) => {
    expect(word).not.toMatch(exact);
  });
});

describe("what was probably meant", () => {
  test("is at most three words, whichever way it was found", () => {
    const dots = ["dota", "dotb", "dotc", "dotd"];
    const means = (spelling: string) => (spelling === "dotb" ? "dota" : spelling);
    expect(meantBy("dotx", dots, means)).toEqual(["dota", "dotc", "dotd"]);
    expect(meantBy("dotx", dots)).toEqual(["dota", "dotb", "dotc"]);
    expect(meantBy("EM", ["end mark", "eye mist", "ear mole", "elm mast", "pale mist"])).toEqual([
      "end mark",
      "eye mist",
      "ear mole",
    ]);
  });
});
