/** A letter or handout in German or Spanish holds no English of ours. What a clinician typed is printed as typed. */
import { describe, expect, it } from "vitest";
import type { Interpretation } from "../../src/interpret/interpretation.js";
import type { Fact } from "../../src/knowledge/schema.js";
import { inLanguage } from "../../src/knowledge/translate.js";
import { passagesOf, sentencesOf } from "../../src/letter/readability.js";
import { clinic, compose, type Example, examples, knowledge, withVisit, wordsIn } from "../letter/compose.js";

/** Every text the clinician or the clinic typed, longest first. */
function typed(example: Example): string[] {
  const texts: string[] = [];
  const walk = (value: unknown) => {
    if (typeof value === "string") texts.push(value, value.replace(/\.$/u, ""));
    else if (typeof value === "object" && value !== null) Object.values(value).forEach(walk);
  };
  const { visit } = example;
  walk([
    clinic,
    visit.reason,
    visit.history,
    visit.examination,
    visit.tests,
    visit.plan,
    visit.sendTo,
    visit.told,
  ]);
  walk([visit.impression.map((i) => i.note), visit.sites.map((s) => [s.notes, s.photos]), visit.patient]);
  const cited = Object.values(knowledge.sources).map((s) => s.citation);
  return [...texts, ...cited].filter((t) => t.length > 2).sort((a, b) => b.length - a.length);
}

const isNamed = ({ kind }: Fact) => kind !== "medicine class";

/** The visit with every fact, answered yes and no by turns, and every finding at its first site. */
function withEverything(example: Example | undefined): Example {
  if (!example) throw new Error("no example");
  const ids = (...kinds: Fact["kind"][]) =>
    Object.values(knowledge.facts).flatMap(({ id, kind }) => (kinds.includes(kind) ? [id] : []));
  const answers = (list: string[]) => Object.fromEntries(list.map((id, i) => [id, i % 2 === 0]));
  const { visit } = example;
  const [site, ...sites] = visit.sites;
  if (!site) throw new Error("no site");
  const findings = Object.keys(knowledge.findings).map((finding) => ({
    finding,
    seen: { state: "present" as const, amount: "few" as const },
  }));
  return withVisit(example, {
    asked: answers(ids("red flag", "history")),
    history: { ...visit.history, exposures: ids("exposure") },
    examination: { ...visit.examination, pattern: ids("pattern"), signs: answers(ids("sign")) },
    sites: [{ ...site, findings, signs: answers(ids("sign").reverse()) }, ...sites],
  });
}

function withoutTyped(text: string, example: Example): string {
  const fold = (t: string) => t.replace(/\s+/gu, " ").toLowerCase();
  const own = typed(example).reduce((rest, t) => rest.replaceAll(fold(t), " § "), fold(text));
  // Sources are cited as published, in any language.
  return own.replace(/(?:quellen|fuentes): \[1\].*$/u, " ");
}

/** English words that are no word of the other language. */
const COMMON =
  "the and of with for your you hair hairs skin seen from which this that scalp doctor between healthy women mean is are have to by or";
const ENGLISH = {
  de: wholeWords(`${COMMON} has had no`),
  es: wholeWords(`${COMMON} not at on as per had`),
} as const;

function wholeWords(words: string): RegExp {
  return new RegExp(`(?<!\\p{L})(?:${words.split(" ").join("|")})(?!\\p{L})`, "giu");
}

describe.each(["de", "es"] as const)("in %s", (language) => {
  describe.each(["referral-letter", "handout"])("the %s", (kind) => {
    it.each(examples.map((e) => [e.name, e] as const))("of %s holds no English word", (_, example) => {
      const letter = compose(kind, example, { language });
      expect(letter.language).toBe(language);
      const text = withoutTyped(`${wordsIn(letter.html)} ${letter.title} ${letter.pageWords}`, example);
      const where = [...text.matchAll(ENGLISH[language])].map((m) =>
        text.slice(Math.max(0, m.index - 40), m.index + 40),
      );
      expect(where).toEqual([]);
    });
  });

  it("the letter names every fact of the catalogue in its language, and its findings", () => {
    const example = withEverything(examples[0]);
    const text = wordsIn(compose("referral-letter", example, { language }).html).toLowerCase();
    const local = inLanguage(knowledge, language);
    const terms = [...Object.values(local.facts).filter(isNamed), ...Object.values(local.findings)];
    expect(terms.map(({ term }) => term).filter((term) => !text.includes(term.toLowerCase()))).toEqual([]);
    const where = [...withoutTyped(text, example).matchAll(ENGLISH[language])].map((m) =>
      text.slice(Math.max(0, m.index - 40), m.index + 40),
    );
    expect(where).toEqual([]);
  });

  it("no sentence of an English document comes back", () => {
    const fold = (text: string) =>
      text
        .toLowerCase()
        .replace(/[^\p{L}\p{N}]+/gu, " ")
        .trim();
    // Lines of the signature are names, joined as the letter joins them.
    const ours = [clinic.name, ...Object.values(clinic.people).map((p) => p.name)];
    for (const example of examples) {
      // A result as it was typed is no sentence of ours.
      const results = example.visit.tests.map(
        ({ name, value, unit = "" }) => `${name} ${value} ${unit.replace(/^ug\b/u, "µg")}`,
      );
      const own = [...typed(example), ...results].map(fold).join(" | ");
      for (const kind of ["referral-letter", "handout"]) {
        const sentences = (tag: string) =>
          passagesOf(compose(kind, example, { language: tag }).html)
            .flatMap(sentencesOf)
            .filter(
              (s) =>
                s.split(" ").length > 2 &&
                !s.startsWith("[") &&
                /\p{L}{4}/u.test(s) &&
                !ours.some((name) => s.includes(name)) &&
                !own.includes(fold(s)),
            );
        const english = new Set(sentences("en-GB"));
        expect(sentences(language).filter((s) => english.has(s))).toEqual([]);
      }
    }
  });

  it("no sentence that keeps a patient safe prints in English on a sheet for the clinician", () => {
    const english = [
      ...Object.values(knowledge.cautions).flatMap((c) => [
        c.must_not_miss?.why,
        c.must_not_miss?.who,
        c.clinician,
      ]),
      ...Object.values(knowledge.facts).flatMap((f) => [f.question, f.called_for?.why]),
    ].flatMap((s) => (s ? [s.replace(/\.$/u, "")] : []));
    // Every line and every question that there is, on one sheet.
    const example = examples.find((e) => e.interpretation.mustNotMiss.length > 0);
    const [line] = example?.interpretation.mustNotMiss ?? [];
    if (!example || !line) throw new Error("no example with a line");
    const everything = {
      ...example,
      interpretation: {
        ...example.interpretation,
        cautions: Object.values(knowledge.cautions).map(({ id, clinician, source }) => ({
          id,
          source,
          ...(clinician ? { clinician } : {}),
        })),
        mustNotMiss: Object.values(knowledge.cautions).flatMap(({ id, must_not_miss: m }) =>
          m ? [{ ...line, id: m.id, caution: id, why: m.why, who: m.who }] : [],
        ),
        askedFor: Object.values(knowledge.facts).flatMap(({ id, question, urgency, called_for: called }) =>
          question && urgency && called ? [{ id, question, urgency, why: called.why }] : [],
        ),
      },
    };
    const sheet = (tag: string) => wordsIn(compose("reasoning-sheet", everything, { language: tag }).html);
    const inEnglish = sheet("en-GB").toLowerCase();
    expect(english.filter((s) => inEnglish.includes(s.toLowerCase())).length).toBeGreaterThan(100);
    const said = sheet(language).toLowerCase();
    expect(english.filter((s) => said.includes(s.toLowerCase()))).toEqual([]);
  });

  it("a question whose danger the words only name says so, and not what else could call for it", () => {
    const [example] = examples;
    const fact = knowledge.facts["fast-virilisation"];
    if (!example || !fact?.question || !fact.urgency || !fact.called_for) throw new Error("no example");
    const asked = { id: fact.id, question: fact.question, urgency: fact.urgency };
    const sheet = (askedFor: Interpretation["askedFor"], tag: string) =>
      wordsIn(
        compose(
          "reasoning-sheet",
          { ...example, interpretation: { ...example.interpretation, askedFor } },
          { language: tag },
        ).html,
      );
    const named = [{ ...asked, why: "It is named.", named: "Bassstimme" }];
    expect(sheet(named, language)).toContain(language === "de" ? "steht „Bassstimme“" : "dice «Bassstimme»");
    expect(sheet(named, "en-GB")).toContain("The record says “Bassstimme”, in passing as it seems.");
    expect(sheet(named, "en-GB")).not.toContain(fact.called_for.why);
    expect(sheet([{ ...asked, why: fact.called_for.why }], "en-GB")).toContain(fact.called_for.why);
  });

  it("the reasoning sheet says that reasons stay in English", () => {
    const [example] = examples;
    if (!example) throw new Error("no example");
    const sheet = wordsIn(compose("reasoning-sheet", example, { language }).html);
    expect(sheet).toMatch(language === "de" ? /stehen auf Englisch/u : /están en inglés/u);
  });
});
