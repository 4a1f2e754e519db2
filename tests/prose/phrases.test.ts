/** Phrases read as they are meant: present, denied, past, or of another person. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { type ProsePiece, readProse } from "../../src/visit/prose/read-prose.js";
import { root } from "../house/source-files.js";

const knowledge = loadKnowledge();
const phrases: readonly (readonly [string, string, string])[] = parse(
  readFileSync(join(root, "tests", "prose", "phrases.yaml"), "utf8"),
);
/** Facts that are told at a place of their own. */
const PLACES: Readonly<Record<string, ProsePiece["place"]>> = {
  "contacts-affected": "contacts",
  "openings-lost": "scalp",
  "boggy-swelling": "scalp",
  pus: "scalp",
};

const statesOf = (text: string, fact: string, place: ProsePiece["place"] = "notes") =>
  readProse([{ where: "here", place, text }], knowledge, { year: 2026 })
    .filter((r) => r.fact === fact)
    .map((r) => r.state);

describe("phrases", () => {
  it("are a hundred and fifty or more", () => {
    expect(phrases.length).toBeGreaterThanOrEqual(150);
  });
  it.each(phrases)("%s %s: %s", (fact, state, text) => {
    const states = statesOf(text, fact, PLACES[fact]);
    if (state === "absent") expect(states.filter((s) => s !== "absent")).toEqual([]);
    else expect(states[0]).toBe(state);
  });
});

describe("words that a phrase is not to stand with", () => {
  it.each([
    ["painful", "The patch hurts.", ["present"]],
    ["painful", "Her knee hurts.", []],
    ["painful", "Her knee hurts, the patch aches.", ["present"]],
    ["painful", "Back pain for years.", []],
    ["painful", "Pain at the back of the head.", ["present"]],
    ["redness", "Red skin under thin hair.", ["present"]],
    ["redness", "Red hair, pale skin.", []],
    ["swelling", "A lump at the crown.", ["present"]],
    ["swelling", "A lump in the breast.", []],
  ] as const)("%s: %s", (fact, text, states) => {
    expect(statesOf(text, fact, "scalp")).toEqual(states);
  });
});

describe("a medicine put on the skin or into the eye", () => {
  it.each([
    ["immune-suppressant-medicine", "tacrolimus 2 mg", ["present"]],
    ["immune-suppressant-medicine", "tacrolimus ointment", []],
    ["immune-suppressant-medicine", "tacrolimus 0.1 % ointment", []],
    ["immune-suppressant-medicine", "tacrolimus, mometasone ointment", ["present"]],
    ["immune-suppressant-medicine", "tacrolimus and hydrocortisone ointment", ["present"]],
    ["immune-suppressant-medicine", "ointment of zinc and tacrolimus", ["present"]],
    ["immune-suppressant-medicine", "topical tacrolimus", []],
    ["immune-suppressant-medicine", "topical steroid, tacrolimus by mouth", ["present"]],
    ["immune-suppressant-medicine", "ciclosporin eye drops", []],
    ["cytotoxic-medicine", "fluorouracil to the crown", []],
    ["cytotoxic-medicine", "fluorouracil for the bowel", ["present"]],
    ["antimetabolite-medicine", "methotrexate ointment", ["present"]],
    ["poison-medicine", "selenium shampoo", []],
    ["poison-medicine", "selenium drops", ["present"]],
  ] as const)("%s: %s", (fact, text, states) => {
    expect(statesOf(text, fact)).toEqual(states);
  });
});

describe("a set phrase", () => {
  it.each([
    ["fever-or-ill", "Cabin fever since Monday.", []],
    ["fever-or-ill", "Cabin fever, and a fever of the other kind.", ["present"]],
    ["hidden-bleeding", "Made black stools for the bar.", []],
    ["hidden-bleeding", "Black stools since Monday.", ["present"]],
    ["hair-swallowed", "Hairball of the cat.", []],
    ["hair-swallowed", "Hairball brought up on Monday.", ["present"]],
  ] as const)("%s: %s", (fact, text, states) => {
    expect(statesOf(text, fact)).toEqual(states);
  });
});

describe("a word that would lose its meaning with its ending", () => {
  it.each([
    ["new-shed-in-handfuls", "Hair in handfuls.", ["present"]],
    ["new-shed-in-handfuls", "Hair in her hands.", []],
    ["starvation-signs", "Takes laxatives.", ["present"]],
    ["starvation-signs", "Lax joints.", []],
  ] as const)("%s: %s", (fact, text, states) => {
    expect(statesOf(text, fact)).toEqual(states);
  });
});

describe("a test that found nothing", () => {
  it.each([
    ["VDRL reactive", ["present"]],
    ["VDRL non-reactive", ["absent"]],
    ["RPR not reactive", ["absent"]],
    ["VDRL negative", ["absent"]],
  ])("%s", (text, states) => {
    expect(statesOf(text, "syphilis-signs", "test_results")).toEqual(states);
  });
});

describe("scopes", () => {
  const boggy = (text: string) => statesOf(text, "boggy-swelling", "scalp");
  it.each([
    ["no fever, boggy swelling", ["present"]],
    ["no fever, pus or boggy swelling", ["absent"]],
    ["no fever but a boggy swelling", ["present"]],
    ["boggy swelling not seen", ["absent"]],
    ["boggy swelling: none", ["absent"]],
    ["not only boggy but hot", ["present"]],
    ["? boggy swelling", ["doubtful"]],
    ["boggy swelling not excluded", ["doubtful"]],
    ["if a boggy swelling appears, call", []],
    ["boggy swelling in 2019", ["past"]],
    ["boggy swelling since 2025", ["present"]],
    ["boggy swelling healed last year, now again boggy", ["present"]],
    ["Her brother has a boggy swelling.", ["other person"]],
    ["Her brother was ill, has a boggy swelling.", ["other person"]],
    ["Her brother was ill, takes tablets and has a boggy swelling", ["other person"]],
    ["Her brother was ill, she has a boggy swelling", ["present"]],
    ["Her brother noticed it, has a boggy swelling", ["present"]],
    ["Seen with her brother, has a boggy swelling", ["present"]],
    ["Her brother says the swelling is boggy.", ["present"]],
    ["bogy swelling", []],
    ["a bogggy swelling", ["present"]],
  ])("%s", (text, states) => {
    expect(boggy(text)).toEqual(states);
  });

  it("quotes the words and the place they stand at", () => {
    const read = readProse(
      [
        {
          where: "history.notes",
          place: "notes",
          text: "Well. Cannot see properly on one side since Monday.",
        },
      ],
      knowledge,
      { year: 2026 },
    ).find((r) => r.fact === "changed-sight");
    expect(read).toEqual({
      fact: "changed-sight",
      state: "present",
      where: "history.notes",
      words: "Cannot see properly",
    });
  });
});

describe("what a title or a stage speaks of", () => {
  it.each([
    ["poison", "Prompts for 'Arsenic and Old Lace' at the hall.", []],
    ["poison", "He takes 'arsenic and old lace' he says.", ["present"]],
    ["poison", "On stage she poisons her uncle, nightly.", []],
    ["poison", "Rat poison in the shed.", ["present"]],
    ["thoughts-of-self-harm", "“I Wish I Was Dead” is her song.", []],
    ["thoughts-of-self-harm", "'Wish I was dead', she says.", ["present"]],
  ] as const)("%s: %s", (fact, text, states) => {
    expect(statesOf(text, fact)).toEqual(states);
  });
});

describe("German and Spanish", () => {
  it.each([
    ["arteritis-signs", "Beim Kauen wird der Kiefer müde.", ["present"]],
    ["arteritis-signs", "Keine Kieferschmerzen beim Kauen.", []],
    ["shingles-signs", "Gürtelrose an der Stirn.", ["present"]],
    ["shingles-signs", "Ihr Bruder hat Gürtelrose.", ["other person"]],
    ["shingles-signs", "Früher einmal Gürtelrose.", ["past"]],
    ["shingles-signs", "Verdacht auf Gürtelrose.", ["doubtful"]],
    ["thoughts-of-self-harm", "Dice que mejor estaría muerto.", ["present"]],
    ["thoughts-of-self-harm", "Niega ideas de suicidio.", ["absent"]],
    ["cancer-before", "Su madre tuvo cáncer de mama.", ["other person"]],
  ] as const)("%s: %s", (fact, text, states) => {
    expect(statesOf(text, fact)).toEqual(states);
  });
});
