/** Red flags told in words of no list: learned from the lines as they stand, and weighed as they are learned. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import type { Told } from "../../src/knowledge/told-schema.js";
import { type ProsePiece, readProse, wordsOf } from "../../src/visit/prose/read-prose.js";
import { windows } from "../../src/visit/prose/told-words.js";
import { root } from "../house/source-files.js";
import { digestOf } from "./told/lines.js";

const shipped = loadKnowledge();
const figures = parse(readFileSync(join(root, "tests", "prose", "told", "figures.yaml"), "utf8")) as {
  digest: string;
  told: { both: number; lists: number };
  near: { both: number; lists: number };
};

describe("what is kept", () => {
  it("was learned from the lines as they stand; `npm run told` learns anew", () => {
    expect(shipped.told.lines.digest).toBe(digestOf(root));
    expect(figures.digest).toBe(digestOf(root));
  });
  it("weighs each word once in a flag", () => {
    for (const [fact, { words }] of Object.entries(shipped.told.facts)) {
      const stems = Object.values(words).flatMap((list) => list.split(" "));
      expect(new Set(stems).size, fact).toBe(stems.length);
    }
  });
  it("reads more of unseen writers than the lists alone, and rings little more on what is only near", () => {
    expect(figures.told.both - figures.told.lists).toBeGreaterThan(8);
    expect(figures.near.both - figures.near.lists).toBeLessThan(5);
  });
});

/** `kelp` and `tar` tell a sore that bleeds, `lamp` speaks against it; the lists are put away. */
const words: Told["facts"] = {
  "bleeding-or-growing-sore": { from: 2, least: 0, words: { "1.5": "kelp", "0.7": "tar", "-1.0": "lamp" } },
  "thoughts-of-self-harm": { from: 1, least: 0, words: { "1.0": "harbour anchor" } },
};
const { readerIndex: _, ...rest } = shipped;
const knowledge: Knowledge = {
  ...rest,
  facts: Object.fromEntries(
    Object.entries(shipped.facts).map(([id, fact]) => [id, { ...fact, written: [], hinted: {} }]),
  ),
  told: { ...shipped.told, facts: words },
};
const read = (text: string, place: ProsePiece["place"] = "notes") =>
  readProse([{ where: "here", place, text }], knowledge, { year: 2026, age: 60 }).map((r) => [
    r.fact,
    r.state,
    r.words,
  ]);
const SORE = "bleeding-or-growing-sore";

describe("words that tell together", () => {
  it("tell the flag from the weight on that it asks for, left open, and are quoted", () => {
    expect(read("Some kelp and some tar there.")).toEqual([[SORE, "doubtful", "kelp and some tar"]]);
  });
  it("tell nothing below it, and a word counts once however often it stands", () => {
    expect(read("Some kelp there.")).toEqual([]);
    expect(read("Kelp on kelp, and kelp again.")).toEqual([]);
  });
  it("are outweighed by a word that speaks against", () => {
    expect(read("Some kelp and some tar by the lamp.")).toEqual([]);
  });
  it("may run over one full stop, not over two", () => {
    expect(read("There is kelp. Also tar.")).toEqual([[SORE, "doubtful", "kelp. Also tar"]]);
    expect(read("There is kelp. Fine day. Also tar.")).toEqual([]);
  });
  it("weigh nothing where they are denied, past or of another person", () => {
    expect(read("No kelp, some tar.")).toEqual([]);
    expect(read("Her sister has kelp and tar.")).toEqual([]);
    expect(read("Kelp and tar in childhood.")).toEqual([]);
  });
  it("hold to the places of the flag, and under past are past", () => {
    expect(read("Some kelp and some tar there.", "family")).toEqual([]);
    expect(read("Some kelp and some tar there.", "past")).toEqual([[SORE, "past", "kelp and some tar"]]);
  });
  it("tell no flag of the body in a sentence of things, and one of the mind all the same", () => {
    const [thing = ""] = shipped.prose.elsewhere.things;
    expect(read(`The ${thing} has some kelp and some tar.`)).toEqual([]);
    expect(read(`The ${thing} lies in harbour.`)).toEqual([["thoughts-of-self-harm", "doubtful", "harbour"]]);
  });
  it("give way to a wording of the lists", () => {
    const listed: Knowledge = {
      ...knowledge,
      facts: { ...knowledge.facts, [SORE]: { ...shipped.facts[SORE], written: ["kelp"] } as never },
    };
    const found = readProse(
      [{ where: "here", place: "notes", text: "Some kelp and some tar there." }],
      listed,
      { year: 2026 },
    );
    expect(found.map((r) => [r.fact, r.state])).toEqual([[SORE, "present"]]);
  });
});

describe("a clue among words that speak of something else", () => {
  const clues = { "a lump": ["anvil"], behaves: ["bellows"] };
  const against = {
    ...words,
    [SORE]: {
      from: 9,
      least: 0,
      words: { "0.9": "kelp", "-0.1": "reed", "-0.3": "lamp", "-0.4": "moss", "-0.5": "dock" },
    },
  } as Told["facts"];
  const known: Knowledge = {
    ...knowledge,
    facts: {
      ...knowledge.facts,
      [SORE]: { ...shipped.facts[SORE], written: ["chisel"], hinted: clues } as never,
    },
    told: { ...shipped.told, facts: against },
  };
  const tells = (text: string) => [
    ...new Set(
      readProse([{ where: "here", place: "notes", text }], known, { year: 2026 }).map((r) => r.fact),
    ),
  ];

  it("counts while they speak neither way, or are fewer than three", () => {
    expect(tells("An anvil and a bellows.")).toEqual([SORE]);
    expect(tells("An anvil, a lamp and moss, and a bellows.")).toEqual([SORE]);
    expect(tells("An anvil, kelp, reed and lamp, and a bellows.")).toEqual([SORE]);
    // No less than what is asked.
    expect(tells("An anvil, kelp, moss and dock, and a bellows.")).toEqual([SORE]);
  });
  it("says nothing once three of them weigh less than what is asked", () => {
    expect(tells("An anvil, reed, lamp and moss, and a bellows.")).toEqual([]);
  });
  it("is weighed with the sentences beside it", () => {
    expect(tells("An anvil, a bellows. Reed, lamp and moss.")).toEqual([SORE]);
    expect(tells("Reed, lamp, moss, anvil. Kelp and bellows. Kelp.")).toEqual([SORE]);
  });
  it("is no wording, which nothing outweighs", () => {
    expect(tells("A chisel, reed, lamp and moss.")).toEqual([SORE]);
  });
});

describe("the words of a text", () => {
  it("are those that speak of the patient now, without their endings, each once in a sentence", () => {
    const made = wordsOf("No swelling; aching jaws, aching 5 jaws. Her mother bleeds.", shipped, {
      year: 2026,
    });
    expect(made.map((s) => s.map((w) => w.token.stem))).toEqual([["no"], ["ach", "jaw"], expect.any(Array)]);
  });
  it("are tried by themselves and two sentences at a time", () => {
    expect(windows([["a"], ["b", "c"], ["d"]])).toEqual([
      ["a"],
      ["a", "b", "c"],
      ["b", "c"],
      ["b", "c", "d"],
      ["d"],
    ]);
  });
});
