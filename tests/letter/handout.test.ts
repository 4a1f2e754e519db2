/** What a handout says to whom: of a child to who cares for the child, of medicines to who takes any, of places and amounts plainly. */
import { describe, expect, it } from "vitest";
import type { FindingSeen, Site, Visit } from "../../src/visit/visit.js";
import { compose, exampleOf, knowledge, wordsIn } from "./compose.js";

const boy = exampleOf("TS-2026-0263");

/** Hardly ever a child's: medicines of cancer care, and disorders of late age. */
const NEVER_A_CHILDS = new Set([
  "egfr-inhibitor-scalp",
  "endocrine-therapy-hair-loss",
  "erosive-pustular-dermatosis",
  "fibrosing-alopecia-in-a-pattern-distribution",
  "folliculitis-decalvans",
  "frontal-fibrosing-alopecia",
  "tnf-inhibitor-scalp",
]);

const BODY = "(?:hair|scalp|head|skin|brows?|eyebrows|lashes|nails|eyes|face|body|joints|medicines?|periods)";
const TO_THE_PATIENT = {
  en: new RegExp(
    `\\b(?:your|my) (?:\\w+ )?${BODY}\\b|\\byou (?:did|have done|cannot pass|may lose|lose)\\b|\\bfor me\\b|\\bin my case\\b`,
    "iu",
  ),
  de: /\b(?:Ihre?[rmns]?|meine?[rmns]?) (?:Haar|Haut|Kopf|Kopfhaut|Nägel|Augen|Mittel)\b|\bbei mir\b|\bSie haben nichts\b/u,
  es: /\b(?:su|mi) (?:pelo|piel|cabeza|caída)\b|\bmis (?:medicinas|uñas)\b|\ben mi caso\b|\busted (?:no ha|haya|hiciera|no hizo)/u,
};

function handoutOf(disorder: string, language: string, parts: Partial<Visit> = {}): string {
  const impression: Visit["impression"] = [{ disorder, certainty: "probable" }];
  const visit = { ...boy.visit, impression, plan: [], ...parts };
  return wordsIn(compose("handout", { ...boy, visit }, { language }).html);
}

describe.each(["en", "de", "es"] as const)("the handout of a child of seven in %s", (language) => {
  it.each(Object.keys(knowledge.disorders).filter((id) => !NEVER_A_CHILDS.has(id)))(
    "with %s speaks to the carer",
    (id) => {
      // The child's own part is the child's.
      const toCarer = handoutOf(id, language).replace(
        /(?:A page for Eskil to read|Eine Seite für Eskil|Una página para Eskil).*$/u,
        "",
      );
      expect(TO_THE_PATIENT[language].exec(toCarer)?.[0]).toBeUndefined();
    },
  );
});

describe("the handout of a child", () => {
  it("names the child, and the carer reads no side of a head as theirs", () => {
    const text = handoutOf("tinea-capitis", "en");
    expect(text).toContain("We looked at Eskil’s scalp through a dermoscope.");
    expect(text).toMatch(/ Right side .*From behind/u);
    expect(text).not.toContain("Your right side");
    expect(text).toContain("A page for Eskil to read");
  });

  it("is not that of a grown patient", () => {
    const grown = exampleOf("TS-2026-0141");
    expect(wordsIn(compose("handout", grown).html)).toContain(
      "We looked at your scalp through a dermoscope.",
    );
    expect(wordsIn(compose("handout", grown).html)).toContain("Your left side");
  });
});

describe("a question about medicines", () => {
  const asked = (names: readonly string[]) =>
    handoutOf("telogen-effluvium", "en", {
      history: { ...boy.visit.history, medicines: names.map((name) => ({ name })) },
    });

  it("is put only where a medicine is recorded", () => {
    expect(asked(["iron tablets"])).toContain("Could any of the medicines play a part?");
    expect(asked([])).not.toContain("Could any of the medicines");
    expect(asked(["none"])).not.toContain("Could any of the medicines");
  });
});

describe("places and amounts in a handout", () => {
  const site = (name: Site["site"], parts: Partial<Site> = {}): Site => ({
    ...(boy.visit.sites[0] as Site),
    site: name,
    findings: [],
    ...parts,
  });
  const textOf = (sites: readonly Site[]) => handoutOf("tinea-capitis", "en", { sites });

  it("stand together by place where there are more than five sites", () => {
    const patch = { lengthMm: 20, widthMm: 10, margin: "sharp" as const };
    const six = [
      site("vertex", { patch }),
      site("nape"),
      site("vertex", { patch: { ...patch, lengthMm: 30 } }),
      site("frontal"),
      site("frontal"),
      site("occipital"),
    ];
    expect(textOf(six)).toMatch(
      /1 and 3: the crown of the head, towards the back \(about 2 cm across; about 3 cm across\)/u,
    );
    expect(textOf(six.slice(0, 5))).not.toContain("1 and 3:");
  });

  it("say nothing of many where a thing can only be there", () => {
    const seen = (finding: string, amount: "many" | "throughout") =>
      textOf([
        site("vertex", { findings: [{ finding, seen: { state: "present", amount } } as FindingSeen] }),
      ]);
    expect(seen("reduced-density", "many")).toContain("Fewer hairs than expected.");
    expect(seen("honeycomb-pigment", "throughout")).toContain(
      "A light brown net in the skin (all over the place we looked at).",
    );
    expect(seen("broken-hairs", "many")).toContain("Short broken hairs (many).");
  });
});

describe("who does what", () => {
  it.each([
    ["en", "The skin doctor", "The children’s doctor", "Piano tuner"],
    ["de", "Die Hautarztpraxis", "Die Kinderarztpraxis", "Piano tuner"],
    ["es", "La consulta de la piel (dermatología)", "La consulta de pediatría", "Piano tuner"],
  ])("is told in the reader's words in %s, and as typed where there are none", (language, ...who) => {
    const plan = ["Dermatologist", "paediatrician", "piano tuner"].map((by) => ({
      who: by,
      action: "Look.",
    }));
    const text = handoutOf("tinea-capitis", language, { plan });
    for (const word of who) expect(text).toContain(word);
    expect(text).not.toMatch(/dermatologist|paediatrician/iu);
  });
});

describe("a scalp that looks healthy", () => {
  it.each([
    ["definite", "We saw a scalp that looks healthy."],
    ["probable", "As far as we can tell, we saw a scalp that looks healthy."],
    ["possible", "It may be a scalp that looks healthy. That is not certain yet."],
  ] as const)("is told in a sentence of its own when %s", (certainty, says) => {
    const impression: Visit["impression"] = [{ disorder: "nothing-abnormal-found", certainty }];
    const text = handoutOf("nothing-abnormal-found", "en", { impression });
    // The name stands out.
    expect(text.replaceAll(" .", ".")).toContain(says);
  });
});
