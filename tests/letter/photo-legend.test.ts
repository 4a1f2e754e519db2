/** What a handout says beside the numbers of a photo. */
import { expect, it } from "vitest";
import { compose, exampleOf, withVisit, wordsIn } from "./compose.js";

const example = exampleOf("TS-2026-0141");
const dots = (amount: "few" | "many") => [
  { finding: "black-dots", seen: { state: "present" as const, amount } },
];
const [first] = example.visit.sites;
if (!first) throw new Error("no site");
const two = withVisit(example, {
  sites: [
    { ...first, site: "left parietal", findings: dots("few") },
    { ...first, site: "vertex", findings: dots("many") },
  ],
});
/** The letter with one photo that nobody marked. */
const unmarked = () =>
  wordsIn(
    compose("referral-letter", two, {
      pictures: {
        photos: [{ id: "photo-1", siteIndex: 0, caption: "Left side.", barMm: null }],
        bytes: { "photo-1": new Uint8Array() },
      },
    }).html,
  );
const handout = (siteIndex: number, finding: string | null, language = "en-GB") =>
  wordsIn(
    compose("handout", two, {
      language,
      pictures: {
        photos: [
          {
            id: "photo-1",
            siteIndex,
            caption: "",
            barMm: null,
            marks: { legend: [{ number: 1, finding }], pointers: [], outlines: [] },
          },
        ],
        bytes: { "photo-1": new Uint8Array() },
      },
    }).html,
  );

it.each([
  [0, "a few"],
  [1, "many"],
])("gives the amount seen at the photo's own site %s: %s", (index, amount) => {
  expect(handout(index, "black-dots")).toContain(`at the skin (${amount}).`);
});

it("of a photo without marks is nothing", () => {
  const text = unmarked();
  const caption = text.indexOf("Left side.");
  expect(caption).toBeGreaterThan(0);
  expect(text).not.toContain("undefined");
});

it.each([
  ["en-GB", "Edge of the patch."],
  ["de", "Rand der kahlen Stelle."],
  ["es", "Borde de la zona sin pelo."],
])("names a patch's edge in a reader's words in %s", (language, words) => {
  expect(handout(0, null, language)).toContain(words);
  expect(handout(0, null, language)).not.toMatch(/margin of the patch|Rand des Herdes|borde de la placa/iu);
});
