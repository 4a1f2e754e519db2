/** How one word of a sentence is meant, at the limits: how far a trigger reaches, where its scope ends, whose and when it is. */
import { describe, expect, it } from "vitest";
import { isPutOnSkin, onSkinOf } from "../../src/visit/prose/on-skin.js";
import { matches, phraseOf } from "../../src/visit/prose/phrases.js";
import { type Moment, meantBy, scopesOf, triggersIn } from "../../src/visit/prose/scopes.js";
import { sentences } from "../../src/visit/prose/tokens.js";
import { testKnowledge } from "../visit/test-knowledge.js";

const scopes = scopesOf(testKnowledge.prose);

/** What the first sentence means by `word`. */
function meant(text: string, word = "itching", medicine = false, moment: Moment = { year: 2026, age: 40 }) {
  const [sentence = []] = sentences(text);
  const [match] = matches(phraseOf(word), sentence, scopes.fillers);
  if (!match) throw new Error(`no ${word} in ${text}`);
  return meantBy(match, sentence, triggersIn(sentence, scopes), scopes, moment, medicine);
}
const words = (count: number) => Array.from({ length: count }, (_, i) => `w${i}`).join(" ");

describe("a finding in a sentence", () => {
  it.each([
    ["Itching.", "present"],
    // Before: up to eight words on; after: up to six back.
    [`No ${words(7)} itching.`, "absent"],
    [`No ${words(8)} itching.`, "present"],
    [`Itching ${words(5)} absent.`, "absent"],
    [`Itching ${words(6)} absent.`, "present"],
    ["Un itching.", "absent"],
    ["Un w1 itching.", "present"],
    ["Itching un.", "present"],
    // A word that ends the scope, on either side.
    ["No scale but itching.", "present"],
    ["Itching but scale absent.", "present"],
    // A comma begins a new statement, unless a short list goes on to an `or`.
    ["No scale, itching.", "present"],
    ["No scale, itching or pain.", "absent"],
    ["No scale, pain or itching.", "absent"],
    ["No scale, pain, itching, or redness.", "absent"],
    [`No ${words(5)}, itching or pain.`, "absent"],
    [`No ${words(6)}, itching or pain.`, "present"],
    [`No scale, ${words(4)}, itching or pain.`, "absent"],
    [`No scale, ${words(5)}, itching or pain.`, "present"],
    ["No scale or pain, itching.", "present"],
    // What heads a new part speaks of what follows it.
    ["Itching, nil scale or pain.", "present"],
    ["Itching or pain nil.", "absent"],
    ["Itching: none.", "absent"],
    // A longer phrase hides the shorter inside it.
    ["No history of itching.", "absent"],
    ["Itching not ruled out.", "doubtful"],
    ["Nobody denies itching.", "absent"],
  ] as const)("%s", (text, state) => {
    expect(meant(text)).toBe(state);
  });

  it.each([
    // A year before that of the visit, in the same part, and not since then.
    ["Itching in 2025.", "past"],
    ["Itching in 2026.", "present"],
    ["Itching since 2025.", "present"],
    ["Itching, scale in 2025.", "present"],
    ["Itching in 1899.", "present"],
    ["Itching 2019 to now.", "present"],
    // An age that lies more than a year back.
    ["Itching at 38.", "past"],
    ["Itching at 39.", "present"],
    ["Itching at 38 degrees.", "present"],
    ["Itching of 38.", "present"],
    ["Itching at 380.", "present"],
    ["Itching as a child.", "past"],
    ["Itching, as a child.", "past"],
    ["As a child, itching.", "present"],
  ] as const)("%s", (text, state) => {
    expect(meant(text)).toBe(state);
  });

  it("is of the past by an age only where that of the patient is known", () => {
    expect(meant("Itching at 38.", "itching", false, { year: 2026 })).toBe("present");
    expect(meant("Itching at 17.", "itching", false, { year: 2026, age: 19 })).toBe("past");
    expect(meant("Itching in 2026.", "itching", false, { year: 2027 })).toBe("past");
  });

  it.each([
    ["Her sister has itching.", "other person"],
    ["Itching in her sister.", "other person"],
    ["Itching in the very dear old sister.", "present"],
    ["Itching, sister well.", "present"],
    ["Itching seen by her sister.", "present"],
    ["Her sister says she has itching.", "present"],
    ["Her sister went home, has itching.", "other person"],
    ["Her sister went home, and has itching.", "other person"],
    ["Her sister went home, she has itching.", "present"],
    ["Today her sister has itching.", "present"],
  ] as const)("%s", (text, state) => {
    expect(meant(text)).toBe(state);
  });
});

describe("a medicine in a sentence", () => {
  it.each([
    ["Minoxidil.", "present"],
    ["Minoxidil prescribed, never collected.", "only spoken of"],
    ["Minoxidil prescribed, never collected but started later.", "present"],
    ["Minoxidil prescribed, never started.", "only spoken of"],
    ["Minoxidil considered.", "only spoken of"],
    ["Minoxidil considered and started.", "present"],
    ["Minoxidil considered, not yet started.", "only spoken of"],
    ["Minoxidil considered, not w1 w2 started.", "present"],
    [`Minoxidil, ${words(3)} never collected.`, "present"],
  ] as const)("%s", (text, state) => {
    expect(meant(text, "minoxidil", true)).toBe(state);
  });

  it("is on the skin by a word just before or after it, a strength aside, within six words and its own part", () => {
    const onSkin = onSkinOf(testKnowledge.prose);
    const isOn = (text: string) => {
      const [sentence = []] = sentences(text);
      const at = sentence.findIndex(({ word }) => word === "tacrolimus");
      return isPutOnSkin(sentence, at, at, onSkin);
    };
    expect(
      [
        "tacrolimus ointment",
        "tacrolimus 0.1 percent w/w mg strength ointment",
        "tacrolimus 1 2 3 4 5 ointment",
        "tacrolimus 1 2 3 4 5 6 ointment",
        "tacrolimus daily ointment",
        "tacrolimus, ointment",
        "topical tacrolimus",
        "topical 0.1 tacrolimus",
        "topical daily tacrolimus",
        "topical, tacrolimus",
        "topical 1 2 3 4 5 tacrolimus",
        "topical 1 2 3 4 5 6 tacrolimus",
      ].map((text) => [text, isOn(text)]),
    ).toEqual([
      ["tacrolimus ointment", true],
      ["tacrolimus 0.1 percent w/w mg strength ointment", true],
      ["tacrolimus 1 2 3 4 5 ointment", true],
      ["tacrolimus 1 2 3 4 5 6 ointment", false],
      ["tacrolimus daily ointment", false],
      ["tacrolimus, ointment", false],
      ["topical tacrolimus", true],
      ["topical 0.1 tacrolimus", true],
      ["topical daily tacrolimus", false],
      ["topical, tacrolimus", false],
      ["topical 1 2 3 4 5 tacrolimus", true],
      ["topical 1 2 3 4 5 6 tacrolimus", false],
    ]);
  });
});
