import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { BANDS, type Interpretation } from "../../src/interpret/interpretation.js";
import { runs } from "../runs.js";
import { compose, type Example, exampleOf, examples, knowledge, withVisit, wordsIn } from "./compose.js";

/** The same visit with another opinion of the engine: other order, bands, shares, second thoughts and hints. */
function otherwise(example: Example, seed: number): Example {
  const { interpretation } = example;
  const { disorders } = interpretation;
  const turned = [
    ...disorders.slice(seed % disorders.length),
    ...disorders.slice(0, seed % disorders.length),
  ];
  const changed: Interpretation = {
    ...interpretation,
    disorders: turned.map((d, i) => ({
      ...d,
      band: BANDS[(i + seed) % BANDS.length] ?? d.band,
      leads: ((i + seed) % 10) / 10,
      score: seed,
      base: -seed,
    })),
    second: { id: "pili-torti", question: true, explains: [], why: "sentinel second" },
    sites: [],
    activity: [],
    lookNext: [{ lookFor: "lice", kind: "finding", says: "look at the sentinel", separates: [], bits: 1 }],
    agreement: { recorded: [], verdict: "disagrees", why: "sentinel verdict" },
    notes: [{ says: "sentinel note", source: "common practice" }],
    assessedShare: 0.5,
  };
  return { ...example, interpretation: changed };
}

describe("the engine's own view", () => {
  it.each(["referral-letter", "handout", "progress-sheet"])("changes nothing in a %s", (kind) => {
    fc.assert(
      fc.property(fc.constantFrom(...examples), fc.nat(50), (example, seed) => {
        const said = compose(kind, otherwise(example, seed + 1)).html;
        expect(said).toBe(compose(kind, example).html);
      }),
      { numRuns: runs(40) },
    );
  });

  it.each([
    [0.4, "; cases met before, no study: +0.4"],
    [-0.05, "; cases met before, no study: \u22120.1"],
    [0.049, undefined],
  ])("says on the sheet alone that cases add %d", (fromCases, says) => {
    const example = exampleOf("TS-2026-0613");
    const { interpretation } = example;
    const bare = interpretation.disorders.map((d) => ({
      ...d,
      for: d.for.map(({ fromCases: _, ...r }) => r),
      against: d.against.map(({ fromCases: _, ...r }) => r),
    }));
    const [first, ...others] = bare;
    const at = first?.for.findIndex((r) => r.frequency) ?? -1;
    if (!first || at < 0) throw new Error("no reason with a frequency");
    const moved = { ...first, for: first.for.map((r, i) => (i === at ? { ...r, fromCases } : r)) };
    const view = { ...example, interpretation: { ...interpretation, disorders: [moved, ...others] } };
    const sheet = wordsIn(compose("reasoning-sheet", view).html);
    if (says) expect(sheet).toContain(says);
    else expect(sheet).not.toContain("cases met before");
    expect(compose("referral-letter", view).html).toBe(compose("referral-letter", example).html);
  });

  it("stands in the reasoning sheet", () => {
    for (const example of examples.slice(0, 4))
      expect(wordsIn(compose("reasoning-sheet", otherwise(example, 3)).html)).toMatch(/sentinel/iu);
  });

  it("lends no word of weighing to letter or handout", () => {
    for (const example of examples)
      for (const kind of ["referral-letter", "handout"])
        expect(wordsIn(compose(kind, example).html)).not.toMatch(
          /strongly supported|\bbits\b|draws over|does not agree|best supported/iu,
        );
  });
});

describe("what a letter says of the impression", () => {
  const healthy = exampleOf("TS-2026-0668");
  const letter = (example: Example) => wordsIn(compose("referral-letter", example).html);
  const between = (text: string, from: string, to: string) =>
    text.slice(text.indexOf(from), text.indexOf(to, text.indexOf(from)));

  it("is the clinician's alone: a healthy scalp has its limits among the cautions, and asks for nothing", () => {
    const text = letter(healthy);
    expect(between(text, "Impression", "Asked of")).toBe(
      "Impression Nothing abnormal found , definite (ICD-10 Z03.8) . Front, crown and back alike; openings kept everywhere. ",
    );
    expect(between(text, "Please bear in mind", "Yours")).toContain(
      "the regions examined on that day, not for others",
    );
    expect(text).not.toContain("Please arrange another look");
  });

  it("lists as not assessed only what is reported in a disorder that was named or excluded", () => {
    expect(letter(healthy)).not.toContain("Not assessed");
    expect(letter(withVisit(healthy, { impression: [] }))).not.toContain("Not assessed");
    for (const example of examples) {
      const listed = /Not assessed: ([^.]*)\./u.exec(letter(example))?.[1]?.split(/, | and /u) ?? [];
      const evidence = example.visit.impression.flatMap((i) =>
        Object.keys(knowledge.disorders[i.disorder]?.evidence ?? {}),
      );
      const terms = evidence.map((id) => knowledge.findings[id]?.term);
      for (const term of listed) expect(terms, example.name).toContain(term);
    }
  });

  it("gives no reasons for an impression where none is named", () => {
    const excluded = letter(exampleOf("TS-2026-0684"));
    expect(excluded).not.toContain("Why this impression");
    expect(excluded).toContain(
      "Considered: alopecia areata (excluded): Firm, and openings are being lost. Tinea capitis (excluded): Microscopy",
    );
  });

  it("begins every sentence with a capital", () => {
    for (const example of examples)
      for (const kind of ["referral-letter", "handout", "reasoning-sheet", "progress-sheet"])
        for (const text of compose(kind, example)
          .html.replace(/<\/?(?:strong|small)>/gu, "")
          .split(/<[^>]*>/u))
          expect(text.replace(/\s+/gu, " ")).not.toMatch(/\p{Ll}{3}\)?[.] \p{Ll}/u);
  });
});

describe("a draft", () => {
  it("carries its mark, and says that nobody signed", () => {
    for (const example of examples) {
      const draft = { ...example, visit: { ...example.visit, status: "draft" as const } };
      const letter = compose("referral-letter", draft);
      expect(letter.draftMark).toBe("DRAFT");
      expect(wordsIn(letter.html)).toContain("Draft: not yet signed");
      expect(wordsIn(letter.html)).not.toContain("Signed electronically");
      expect(compose("handout", draft, { language: "de" }).draftMark).toBe("ENTWURF");
      const signed = { ...example, visit: { ...example.visit, status: "signed" as const } };
      expect(compose("referral-letter", signed).draftMark).toBeNull();
    }
  });
});
