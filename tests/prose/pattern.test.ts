/** The small language in which phrases are written, each sign of it at its limits, and how words are cut from a text. */
import { describe, expect, it } from "vitest";
import {
  ideasOf,
  keysOfElement,
  keysOfWord,
  matches,
  phraseOf,
  setsOf,
  stemsOf,
} from "../../src/visit/prose/phrases.js";
import { mended, spellingsIn } from "../../src/visit/prose/slips.js";
import { foldProse, sentences, stemOf } from "../../src/visit/prose/tokens.js";

const FILLERS = new Set(["the", "a", "of", "very", "so"]);
const ideas = ideasOf({ itch: ["itch", "scratch*", "wants to rub"], pain: ["hurt"] });

/** First and last word of each match in the first sentence. */
const found = (phrase: string, text: string) =>
  matches(phraseOf(phrase, ideas), sentences(text)[0] ?? [], FILLERS).map(({ from, to }) => [from, to]);

describe("a phrase", () => {
  it.each([
    // Words in a row, in any form, fillers between them let pass: three, not four.
    ["hair lost", "lost hair", []],
    ["hair lost", "the hair lost", [[1, 2]]],
    ["hair lost", "hair the very so lost", [[0, 4]]],
    ["hair lost", "hair the very so a lost", []],
    ["hair lost", "hair quickly lost", []],
    // A comma may stand between, but nothing beyond it that is let pass.
    ["hair lost", "hair, lost", [[0, 1]]],
    ["hair lost", "hair, the lost", []],
    ["hair lost", "hair", []],
    ["hair-lost", "hairs lost", [[0, 1]]],
    [
      "hair",
      "hair by hair",
      [
        [0, 0],
        [2, 2],
      ],
    ],
    // Either of two; beginnings; the very form; rows of words.
    ["red|pink skin", "pink skin", [[0, 1]]],
    ["red|pink skin", "pale skin", []],
    ["derm*", "dermal", [[0, 0]]],
    ["derm*", "epidermal", []],
    ["=hairs", "hairs", [[0, 0]]],
    ["=hairs", "hair", []],
    ["skin|hair_root red", "hair root red", [[0, 2]]],
    ["skin|hair_root red", "hair of the root red", [[0, 4]]],
    ["skin|hair_root red", "hair red", []],
    ["skin|hair_root red", "hair, root red", []],
    // Any wording of an idea.
    ["scalp <itch>", "scalp itching", [[0, 1]]],
    ["scalp <itch>", "scalp scratched", [[0, 1]]],
    ["scalp <itch>", "scalp wants to rub", [[0, 3]]],
    ["scalp <itch>|<pain>", "scalp hurts", [[0, 1]]],
    ["scalp <itch>|sore", "scalp sore", [[0, 1]]],
    // Numbers beyond a limit.
    ["age >17", "age 17", []],
    ["age >17", "age 18", [[0, 1]]],
    ["age >17", "age 17,5", [[0, 1]]],
    ["age <18", "age 18", []],
    ["age <17.5", "age 17.4", [[0, 1]]],
    ["age <18", "age unknown", []],
    ["age <18", "age 0", [[0, 1]]],
    [">17 years", "in 18 years", [[1, 2]]],
    [">37.9<43 fever", "38 fever", [[0, 1]]],
    [">37.9<43 fever", "37.9 fever", []],
    [">37.9<43 fever", "42.9 fever", [[0, 1]]],
    [">37.9<43 fever", "2011 fever", []],
    // `..`: up to four words of any kind, then fillers.
    ["hair .. lost", "hair grew and then was lost", [[0, 5]]],
    ["hair .. lost", "hair grew and then it was lost", []],
    ["hair .. lost", "hair grew and then was so lost", [[0, 6]]],
    ["hair .. lost", "hair grew, lost", [[0, 2]]],
    ["hair .. lost", "hair, grew lost", []],
    ["hair .. lost fast", "hair was lost not fast", []],
    // Two parts in any order, no more than seven words apart, in one part of the sentence.
    ["hair & lost", "lost her hair", [[0, 2]]],
    ["hair & lost", "hair 1 2 3 4 5 6 lost", [[0, 7]]],
    ["hair & lost", "hair 1 2 3 4 5 6 7 lost", []],
    ["hair & lost", "lost 1 2 3 4 5 6 hair", [[0, 7]]],
    ["hair & lost", "lost 1 2 3 4 5 6 7 hair", []],
    ["hair & lost", "hair, lost", []],
    ["hair & hair", "hair", []],
    ["hair & lost & fast", "fast the hair lost", [[0, 3]]],
    ["hair & lost & fast", "the hair lost", []],
    ["hair & lost", "lost 1 2 hair lost", [[3, 4]]],
    // The same over commas, and fourteen words.
    ["hair && lost", "hair, lost", [[0, 1]]],
    ["hair && lost", "hair 1 2 3 4 5 6 7 8 9 10 11 12 13 lost", [[0, 14]]],
    ["hair && lost", "hair 1 2 3 4 5 6 7 8 9 10 11 12 13 14 lost", []],
    // Words it is not to stand with: in the same part, or anywhere.
    ["hair ! cat", "hair of the cat", []],
    ["hair ! cat", "hair, no cat", [[0, 0]]],
    ["hair ! cat|dog", "hair of the dog", []],
    ["hair ! dog <pain>", "hair hurts", []],
    ["hair !! cat", "hair, no cat", []],
    ["hair ! dog !! cat", "hair of a dog", []],
    ["hair ! dog !! cat", "hair, the cat", []],
    ["hair && lost ! cat", "hair, lost to the cat", []],
    ["hair ! dog !! cat", "hair, a dog", [[0, 0]]],
  ] as const)("%s: %s", (phrase, text, expected) => {
    expect(found(phrase, text)).toEqual(expected);
  });

  it("holds the words it names, not those it lets pass", () => {
    const [match] = matches(
      phraseOf("hair .. lost & fast"),
      sentences("fast her hair was lost")[0] ?? [],
      FILLERS,
    );
    expect([...(match?.held ?? [])].sort()).toEqual([0, 2, 4]);
  });

  it("is for one place where it says so", () => {
    expect(phraseOf("pain of the knee @notes").only).toBe("notes");
    expect("only" in phraseOf("pain")).toBe(false);
  });

  it("tells by what each of its words is looked up", () => {
    const keys = (phrase: string) =>
      phraseOf(phrase, ideas).sides.flatMap((side) => side.elements.map((e) => [...keysOfElement(e)]));
    expect(keys("itching|=hurting|hair_root")).toEqual([["itch", "hurt", "hair"]]);
    expect(keys("derm* do* red & >17 years")).toEqual([["*der"], [""], ["red"], ["#"], ["year"]]);
    expect(sentences("Dermal 18 do")[0]?.map(keysOfWord)).toEqual([
      ["dermal", "*der"],
      ["18", "", "#"],
      ["do", ""],
    ]);
  });

  it("tells every stem it names", () => {
    expect(setsOf(phraseOf("hairs|=lost & root_canal fast")).flatMap(stemsOf)).toEqual([
      "hair",
      "lost",
      "root",
      "canal",
      "fast",
    ]);
  });

  it("may name no idea that there is not", () => {
    expect(() => phraseOf("<hope>", ideas)).toThrow("prose: no idea is called hope");
    expect(() => phraseOf("<hope>")).toThrow("prose: no idea is called hope");
  });
});

describe("a text", () => {
  const cut = (text: string) =>
    sentences(text).map((sentence) =>
      sentence.map(({ word, part }) => (part > 0 ? `${part}:${word}` : word)).join(" "),
    );

  it.each([
    ["One. Two; three! Four\nfive", ["one", "two", "three", "four", "five"]],
    ["e.g.this", ["e g this"]],
    ["one, two (three) four", ["one 1:two 2:three 3:four"]],
    ["her sister, who has it, well", ["her sister who has it 1:well"]],
    ["her sister, whose hair fell", ["her sister whose hair fell"]],
    ["Fever: denied. Plan: tablets", ["fever denied", "plan", "tablets"]],
    ["Fever: no, then", ["fever no 1:then"]],
    ["Fever: none of note", ["fever", "none of note"]],
    ["Fever: not seen", ["fever not seen"]],
    ["Pain? None seen", ["pain ?", "none seen"]],
    ["Pain? none seen", ["pain ? none seen"]],
    ["Pain ? None", ["pain ? none"]],
    ["pain?", ["pain ?"]],
    ["1.5 mg 3/4 n/a", ["1.5 mg 3/4 n/a"]],
    ["She can't, won't, didnt and cannot", ["she can not 1:will 1:not 2:did 2:not 2:and 2:can 2:not"]],
    ["the patient's I've we'll he'd O'Neil", ["the patient i we he oneil"]],
    ["nonhealing none non-healing nona", ["non healing none non healing nona"]],
    ["reads 'Arsenic and Old Lace' at night", ["reads at night"]],
    ["says 'No hair' and 'Hair'", ["says no hair and hair"]],
    ["", []],
    [" ... ", []],
  ])("%s", (text, expected) => {
    expect(cut(text)).toEqual(expected);
  });

  it("keeps the place of each word", () => {
    expect(
      sentences("Ab. Can't go")
        .flat()
        .map(({ word, start, end }) => [word, start, end]),
    ).toEqual([
      ["ab", 0, 2],
      ["can", 4, 9],
      ["not", 4, 9],
      ["go", 10, 12],
    ]);
  });

  it.each([
    ["anaemia", "anemia"],
    ["oedema", "edema"],
    ["diarrhoea", "diarrhea"],
    ["amoeba", "ameba"],
    ["anaesthetic", "anesthetic"],
    ["colouring", "coloring"],
    ["tumours", "tumors"],
    ["odour", "odor"],
    ["behaviour", "behavior"],
    ["greying", "graying"],
    ["fibres", "fibers"],
    ["centres", "centers"],
    ["stabilised", "stabilized"],
    ["raise", "raise"],
    ["analysed", "analyzed"],
    ["sulphate", "sulfate"],
    ["Ödem", "odem"],
    ["weiß", "weiss"],
    ["can’t", "can't"],
    ["our", "our"],
  ])("reads %s as %s", (written, read) => {
    expect(foldProse(written)).toBe(read);
  });

  it.each([
    ["handfuls", "handful"],
    ["laxatives", "laxative"],
    ["news", "news"],
    ["his", "his"],
    ["hairs", "hair"],
    ["50mgs", "50mgs"],
  ])("takes %s for %s", (written, stem) => {
    expect(stemOf(written)).toBe(stem);
  });
});

describe("a slip of the keyboard", () => {
  const spellings = spellingsIn(setsOf(phraseOf("scalp|pustule|haemorrhage|inflam*|hair|burning")));
  const known = new Set(["scales", stemOf("burner")]);
  const read = (text: string) => mended(sentences(text)[0] ?? [], spellings, known)[0]?.word ?? "";

  it.each([
    ["scalpp", "scalp"],
    ["sclap", "scalp"],
    ["sclpa", "sclpa"],
    ["scxxp", "scxxp"],
    ["kcalp", "kcalp"],
    ["scal", "scal"],
    ["pustul", "pustule"],
    ["pustxxe", "pustxxe"],
    ["hemorrhxxe", "hemorrhage"],
    ["hemorxxxge", "hemorxxxge"],
    ["inflammed", "inflammed"],
    ["inflms", "inflam"],
    ["imflammation", "inflam"],
    ["scales", "scales"],
    ["burners", "burners"],
    ["haiir", "haiir"],
    ["scal2p", "scal2p"],
  ])("%s is read as %s", (written, meant) => {
    expect(read(written)).toBe(meant);
  });
});
