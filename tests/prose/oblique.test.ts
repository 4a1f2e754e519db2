/** Red flags in words nobody chose, look-alikes of them, both in one sentence, and clues that only together speak for a flag. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { readProse } from "../../src/visit/prose/read-prose.js";
import { root } from "../house/source-files.js";
import { runs } from "../runs.js";

const knowledge = loadKnowledge();
const read = (name: string) => parse(readFileSync(join(root, "tests", name), "utf8"));
const table: Readonly<Record<string, { leave_alone: string[]; raise: string[] }>> =
  read("prose/oblique.yaml");
const flags: readonly { flag: string; leave_alone: string[]; raise: string[] }[] =
  read("hazards/phrases.yaml");

const statesOf = (text: string, fact: string) =>
  readProse([{ where: "here", place: "notes", text }], knowledge, { year: 2026, age: 60 })
    .filter((r) => r.fact === fact)
    .map((r) => r.state);
const rings = (text: string, fact: string) =>
  statesOf(text, fact).some((s) => s === "present" || s === "doubtful");

describe.each(Object.entries(table))("%s", (flag, { leave_alone, raise }) => {
  it("is read in oblique words", () => {
    expect(raise.filter((text) => !rings(text, flag))).toEqual([]);
  });
  it("is not read where its words mean something else", () => {
    expect(leave_alone.filter((text) => rings(text, flag))).toEqual([]);
  });
});

describe("a look-alike and the danger itself in one sentence", () => {
  // One pair in six, spread evenly over both; all of them with `WHORL_RUNS=1`.
  const step = Math.round(60 / runs(60));
  const tried = flags.flatMap(({ flag, leave_alone, raise }) => {
    const danger = raise.filter((text) => rings(text, flag));
    return leave_alone
      .filter((text) => !rings(text, flag))
      .flatMap((first, i) =>
        danger.flatMap((second, j) => ((i + j) % step === 0 ? [{ flag, first, second }] : [])),
      );
  });

  it.each([", and ", " but ", " - "])("joined by %j hide it in fewer than 1 in 40", (joined) => {
    const lost = tried
      .map(({ flag, first, second }) => ({ flag, both: `${first.replace(/[.!]+$/u, "")}${joined}${second}` }))
      .filter(({ flag, both }) => !rings(both, flag));
    expect(tried.length).toBeGreaterThan(500);
    expect(lost.length / tried.length, lost.map((l) => l.both).join("\n")).toBeLessThan(1 / 40);
  });

  it.each([
    ["thoughts-of-self-harm", "His uncle died by suicide but he wants to die too."],
    ["thoughts-of-self-harm", "Overdose at 15, well for years - now wishes not to wake up."],
    ["arteritis-signs", "Her sister had temporal arteritis but her own jaw aches when she chews."],
    ["shingles-signs", "Zona ist abgeheilt, aber jetzt wieder Bläschen auf einer Seite der Stirn, brennt."],
    ["bleeding-or-growing-sore", "Father had skin cancer - a sore on her crown bleeds and never heals."],
  ] as const)("%s: %s", (flag, text) => {
    expect(rings(text, flag)).toBe(true);
  });

  it.each([
    ["Suicidal thoughts - none.", "thoughts-of-self-harm"],
    ["Jaw ache - denied, sight normal.", "arteritis-signs"],
  ] as const)("stays quiet: %s", (text, flag) => {
    expect(rings(text, flag)).toBe(false);
  });
});

it("`nothing but` turns to nothing else", () => {
  expect(statesOf("Never sits, lives on nothing but apples.", "starvation-signs")).toEqual(["present"]);
});

describe("a sentence about things", () => {
  it.each([
    ["boggy-swelling", "Boggy ground on the moor, everything oozed.", []],
    ["boggy-swelling", "Boggy scalp since she slept on the moor.", ["present"]],
    ["thoughts-of-self-harm", "Wishes he would not wake up, has let the lawn go.", ["present"]],
  ] as const)("%s: %s", (flag, text, states) => {
    expect(statesOf(text, flag)).toEqual(states);
  });
});

describe("clues", () => {
  const ARTERITIS = "arteritis-signs";
  it("of one kind say nothing", () => {
    expect(statesOf("Lives on soup these days.", ARTERITIS)).toEqual([]);
    expect(statesOf("Lives on soup these days. Cuts bread into small cubes.", ARTERITIS)).toEqual([]);
  });
  it("of two kinds speak for it", () => {
    expect(statesOf("Lives on soup these days. Struggles with her cardigan till ten.", ARTERITIS)).toEqual([
      "doubtful",
      "doubtful",
    ]);
  });
  it("may stand in two places, and quote both", () => {
    const found = readProse(
      [
        { where: "visit.reason", place: "reason", text: "Lives on soup these days." },
        { where: "history.notes", place: "notes", text: "Lost a stone." },
      ],
      knowledge,
      { year: 2026 },
    ).filter((r) => r.fact === ARTERITIS);
    expect(found).toEqual([
      { fact: ARTERITIS, state: "doubtful", where: "visit.reason", words: "soup these days" },
      { fact: ARTERITIS, state: "doubtful", where: "history.notes", words: "Lost a stone" },
    ]);
  });
  it("count for nothing where they are denied, past or of another person", () => {
    expect(statesOf("Her mother lives on soup. Lost a stone.", ARTERITIS)).toEqual([]);
  });
  it("add nothing to what is told outright", () => {
    expect(statesOf("Jaw aches on chewing. Lost a stone.", ARTERITIS)).toEqual(["present"]);
  });
});
