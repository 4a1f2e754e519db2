import { describe, expect, it } from "vitest";
import {
  findTokens,
  holdsSpelled,
  MAY_BREAK,
  matchAt,
  spelled,
  tokensOf,
  withoutLast,
} from "../../../src/batch/token-text.js";

describe("words", () => {
  it("lose case, signs, invisible characters and the forms of letters, and keep accents", () => {
    expect(tokensOf("Ms Solheim-Adeyemi, no. TS-40417")).toEqual([
      "ms",
      "solheim",
      "adeyemi",
      "no",
      "ts",
      "40417",
    ]);
    expect(tokensOf("\ufb01ne so\u00adft J\u00fcrgen \uff14\uff12")).toEqual([
      "fine",
      "soft",
      "j\u00fcrgen",
      "42",
    ]);
    expect(tokensOf(" \u2014 !")).toEqual([]);
  });

  it("of twelve letters may be broken at a line end, of eleven not", () => {
    expect(MAY_BREAK).toBe(12);
    expect(matchAt(["perifol", "licul"], 0, ["perifollicul"])).toBe(2);
    expect(matchAt(["perifol", "licu"], 0, ["perifollicu"])).toBe(0);
    expect(matchAt(["peri", "fol", "licul", "x"], 0, ["perifollicul", "x"])).toBe(4);
    expect(matchAt(["perifol", "licux"], 0, ["perifollicul"])).toBe(0);
    expect(matchAt(["perifol"], 0, ["perifollicul"])).toBe(0);
    expect(matchAt(["a", "b"], 0, ["a", "b", "c"])).toBe(0);
  });

  it("are found from a place on, and nothing is found nowhere", () => {
    expect(findTokens(["a", "b", "a", "b"], ["a", "b"])).toBe(0);
    expect(findTokens(["a", "b", "a", "b"], ["a", "b"], 1)).toBe(2);
    expect(findTokens(["a", "b", "a", "b"], ["a", "b"], 3)).toBe(-1);
    expect(findTokens(["a"], [])).toBe(-1);
  });
});

describe("signs", () => {
  it("stand between the words, without spaces, list dots and the kind of a dash", () => {
    expect(spelled("(5\u20137 %) \u2022 <2.5")).toEqual({
      words: ["5", "7", "2", "5"],
      gaps: ["(", "-", "%)<", ".", ""],
    });
    expect(spelled("\u22122 - 3").gaps).toEqual(["-", "-", ""]);
    expect(spelled("")).toEqual({ words: [], gaps: [""] });
  });

  const text = "Found <5 hairs, 1.5 to 2.5 % of them (left). Then 1-5.";
  it.each([
    ["<5 hairs", true],
    [">5 hairs", false],
    ["5 hairs", true],
    ["hairs, 1.5", true],
    ["hairs 1.5", false],
    ["1.5 to 2.5 %", true],
    ["1.5 to 2.5", true],
    ["1,5 to 2.5", false],
    ["1.5 to +2.5", false],
    ["2.5 %", true],
    ["2.5 \u2030", false],
    ["1-5", true],
    ["1\u20135.", true],
    ["1/5", false],
    ["(left)", true],
    ["[left]", false],
    ["not there", false],
  ])("of %j agree: %s", (wanted, agree) => {
    expect(holdsSpelled(spelled(text), spelled(wanted))).toBe(agree);
  });

  it("of a second place count where those of the first do not agree", () => {
    expect(holdsSpelled(spelled("a 1.5 b 1,5 c"), spelled("1,5 c"))).toBe(true);
    expect(holdsSpelled(spelled("a 1.5 b 1-5 c"), spelled("1,5"))).toBe(false);
  });

  it("inside a long word broken at a line end are no matter, those after it are", () => {
    expect(holdsSpelled(spelled("perifol- licular, scale"), spelled("perifollicular, scale"))).toBe(true);
    expect(holdsSpelled(spelled("perifol- licular scale"), spelled("perifollicular, scale"))).toBe(false);
  });
});

describe("taking words out", () => {
  it("takes the last place, and no longer knows the signs there", () => {
    const left = withoutLast(spelled("a (b) a (b) c."), ["b"]);
    expect(left).toEqual({ words: ["a", "b", "a", "c"], gaps: ["", "(", ")", null, "."] });
    expect(holdsSpelled(left, spelled("a ! c."))).toBe(true);
    expect(holdsSpelled(left, spelled("a ! c !"))).toBe(false);
  });

  it("leaves all where they stand nowhere, and for no words", () => {
    const text = spelled("a, b");
    expect(withoutLast(text, ["c"])).toBe(text);
    expect(withoutLast(text, [])).toBe(text);
  });
});
