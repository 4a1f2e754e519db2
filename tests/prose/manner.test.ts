/** A danger that the record names in passing is asked and raises no line; one that is told, or cannot wait, raises it. */
import { expect, it } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Urgency } from "../../src/knowledge/urgency.js";
import { type ReadFact, withClues } from "../../src/visit/prose/clues.js";
import { passageOf, soundsHarmless, turnsOf } from "../../src/visit/prose/manner.js";
import { readProse } from "../../src/visit/prose/read-prose.js";
import { sentences } from "../../src/visit/prose/tokens.js";

const MANNER = { base: -0.5, urgent: -1, other: -0.8, words: { "-0.3": "joke cat_laugh", "0.6": "week" } };

const named = (text: string, words: string) => {
  const all = sentences(text);
  const start = text.indexOf(words);
  return {
    all,
    at: {
      sentence: all.findLastIndex((s) => (s[0]?.start ?? 0) <= start),
      start,
      end: start + words.length,
    },
  };
};
const passage = (text: string, words: string) => {
  const { all, at } = named(text, words);
  return passageOf(all, at).map((s) => s.map((t) => t.word).join(" "));
};

it("takes each word and each two in a row, without their endings and once", () => {
  expect([...turnsOf(sentences("The cats laughed. The cats ran"))]).toEqual([
    "the",
    "the_cat",
    "cat",
    "cat_laugh",
    "laugh",
    "cat_ran",
    "ran",
  ]);
});

it("hears the rest of the part, the parts after it and the next sentence, and not what stands before", () => {
  const text = "Sleeps well. Works at a zoo, she coughs hairballs daily, laughs. Eats well. Late again.";
  expect(passage(text, "hairballs")).toEqual(["she coughs", "daily laughs", "eats well"]);
  expect(passage("Hairballs.", "Hairballs")).toEqual(["", ""]);
});

const sounds = (text: string, urgency: Urgency | undefined) => {
  const { all, at } = named(text, "fits");
  return soundsHarmless(all, at, urgency, MANNER);
};
it.each([
  // Base and one word of -0.3: exactly at the limit is not below it.
  ["Has fits, jokes.", "soon", false],
  ["Has fits, jokes. The cat laughed.", "soon", true],
  ["Has fits, jokes. The cat laughed.", "days", true],
  ["Has fits, jokes. The cat laughed all week.", "soon", false],
  ["Has fits, jokes. The cat laughed.", "same day", true],
  ["Has fits, jokes. The cat laughed.", undefined, true],
  ["Has fits, jokes. The cat laughed.", "now", false],
  ["Jokes, has fits. The cat laughed.", "soon", false],
  ["Has fits. Ate. The cat laughed, jokes.", "soon", false],
] as const)("%s (%s): %s", (text, urgency, harmless) => {
  expect(sounds(text, urgency)).toBe(harmless);
});

it("asks more where hours count or nobody said how fast it matters", () => {
  const { all, at } = named("Has fits, jokes. The cat laughed.", "fits");
  const stricter = { ...MANNER, urgent: -1.2 };
  expect(soundsHarmless(all, at, "days", stricter)).toBe(true);
  expect(soundsHarmless(all, at, "same day", stricter)).toBe(false);
  expect(soundsHarmless(all, at, undefined, stricter)).toBe(false);
  expect(soundsHarmless(all, at, "days", undefined)).toBe(false);
});

it.each([
  [
    "hair-dye",
    "Coloured 20 yrs, never any bother w it, does the skin test each time and it's always clear.",
    "harmless",
  ],
  ["pregnant-told", "Booking bloods all clear - HIV, hep B, syphilis neg. Married 6 yrs.", "harmless"],
  // What is seen is seen, however it is told.
  ["redness", "Redness once, never any bother with it, always clear, fine and well. Eats well.", "present"],
  // It cannot wait until the patient has left.
  [
    "thoughts-of-self-harm",
    "Wants to die, jokes. Fine and well, always laughs, never any bother, eats well.",
    "present",
  ],
] as const)("%s: %s", (fact, text, state) => {
  const read = readProse([{ where: "history.notes", place: "notes", text }], loadKnowledge(), { year: 2026 });
  expect(read.find((r) => r.fact === fact)?.state).toBe(state);
});

it("takes no clue from a passage that sounds harmless", () => {
  const { facts } = loadKnowledge();
  const fact = Object.values(facts).find((f) => Object.keys(f.hinted).length > 1);
  const [one, two] = Object.keys(fact?.hinted ?? {});
  if (!fact || !one || !two) throw new Error("no fact has clues");
  const clue = (kind: string, state: ReadFact["state"]) => ({
    fact: fact.id,
    clue: kind,
    state,
    where: "history.notes",
    words: kind,
  });
  expect(withClues([clue(one, "present"), clue(two, "doubtful")], facts)).toHaveLength(2);
  expect(withClues([clue(one, "present"), clue(two, "harmless")], facts)).toEqual([]);
});
