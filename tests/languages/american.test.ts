import { describe, expect, it } from "vitest";
import { loadPack } from "../../src/letter/pack.js";
import { respell, respellTemplate } from "../../src/letter/spelling.js";
import { parseClinic } from "../../src/visit/clinic.js";
import { compose, exampleOf, examples, withVisit, wordsIn } from "../letter/compose.js";

const { pack } = loadPack("en-US");
const spelling = pack?.words.spelling;

/** Patterns of British spelling, wider than our table, so that a new British word is found. */
const BRITISH =
  /\b\w*(?:colour|favour|behaviour|tumour|neighbour|honour|humour|labour|odour|haem|oedema|paed|anaem|orrhoe|[^u]centre\b|\bcentre|millimetre|centimetre|fibre|calibre|grey|isation|ise[ds]?\b|ising\b|yse[ds]?\b|defence|licence|judgement|towards|outwards|mould|plough|programme\b)\w*/giu;
/** American words the patterns catch. */
const BOTH =
  /^(?:bruis|rais|promis|advis|exercis|otherwis|likewis|precis|surpris|compris|revis|noise|rise|arise|wise|disease|increase|decrease)/iu;

function britishIn(text: string): string[] {
  return (text.match(BRITISH) ?? []).filter((w) => !BOTH.test(w));
}

describe("American English", () => {
  it("writes dates, paper and closing in the American habit", () => {
    const letter = compose("referral-letter", exampleOf("TS-2026-0141"), { language: "en-US" });
    expect(letter.language).toBe("en-US");
    expect(wordsIn(letter.html)).toContain("March 12, 2026");
    expect(wordsIn(letter.html)).toContain("Sincerely,");
    expect(wordsIn(letter.html)).not.toContain("Yours sincerely");
    expect(pack?.words.paper).toBe("Letter");
    expect(pack?.words.identifiers).toBe(loadPack("en-GB").pack?.words.identifiers);
  });

  it("takes Letter paper for an American clinic that names none, and A4 for others", () => {
    const file = (language: string) =>
      parseClinic(
        `name: N\nlines: [L]\nphone: "1"\nlanguage: ${language}\npeople:\n  p: { name: N, role: R, may_sign: true }\n`,
        "clinic.yaml",
      ).value?.paper;
    expect(["en-US", "es-US", "en-GB", "de"].map(file)).toEqual(["Letter", "Letter", "A4", "A4"]);
  });

  it("spells every text of ours the American way", () => {
    const bland = (kind: string) =>
      examples.flatMap((example) => {
        const { visit } = example;
        const plain = withVisit(example, {
          reason: "",
          history: {
            ...visit.history,
            notes: "",
            hairCare: [],
            family: [],
            past: [],
            medicines: [],
            triggers: [],
          },
          examination: {},
          sites: visit.sites.map((s) => ({ ...s, notes: "" })),
          tests: [],
          plan: [],
          impression: visit.impression.map((i) => ({ ...i, note: "" })),
        });
        return britishIn(
          wordsIn(compose(kind, plain, { language: "en-US" }).html).replace(/Sources: \[1\].*$/u, ""),
        );
      });
    for (const kind of ["referral-letter", "handout"]) expect(bland(kind), kind).toEqual([]);
  });

  it("never touches names or what a clinician wrote", () => {
    const example = exampleOf("TS-2026-0141");
    const typed = "Grey Centre Colour, towards the fibre";
    const changed = withVisit(example, {
      reason: typed,
      patient: { ...example.visit.patient, name: { title: "Ms", given: "Haemorrhage", family: "Grey" } },
      plan: [{ who: "patient", action: typed }],
    });
    for (const kind of ["referral-letter", "handout"]) {
      const text = wordsIn(compose(kind, changed, { language: "en-US" }).html);
      expect(text).toContain(typed);
      expect(text).toContain("Haemorrhage Grey");
    }
  });

  it("keeps British spelling in British letters", () => {
    const handouts = examples
      .map((e) => wordsIn(compose("handout", e, { language: "en-GB" }).html))
      .join(" ");
    expect(handouts).toContain("defence system");
    expect(handouts).not.toContain("defense");
  });
});

describe("respelling", () => {
  it("changes whole words and keeps capitals", () => {
    expect(respell(spelling, "Grey greyhound, grey.")).toBe("Gray greyhound, gray.");
    expect(respell(undefined, "grey")).toBe("grey");
  });

  it("leaves tags and values of a template", () => {
    expect(
      respellTemplate(spelling, '<p class="colour">colour {{colour.grey}} {{#if grey}}grey{{/if}}</p>'),
    ).toBe('<p class="colour">color {{colour.grey}} {{#if grey}}gray{{/if}}</p>');
  });
});
