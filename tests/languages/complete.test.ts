/** Nothing that documents print is missing in a language we ship. */
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parse } from "yaml";
import { inPackage } from "../../src/base/root.js";
import { knowledgeLanguages, loadKnowledge, readLanguage } from "../../src/knowledge/load.js";
import { normalsFileSchema } from "../../src/knowledge/normals-schema.js";
import { CAUTION_SENTENCES } from "../../src/knowledge/schema.js";
import { wordsOf } from "../../src/knowledge/sentence.js";
import { inLanguage, withTexts } from "../../src/knowledge/translate.js";
import { IN_THE_LETTER } from "../../src/letter/measurements.js";
import { loadPack, packLanguages } from "../../src/letter/pack.js";

const knowledge = loadKnowledge();
const LANGUAGES = ["de", "es"];

function wordsFile(language: string): Record<string, unknown> {
  return parse(readFileSync(inPackage("templates", language, "words.yaml"), "utf8"));
}

/** Every key path down to the phrases; numbers in lists count. */
function paths(value: unknown, path = ""): string[] {
  if (typeof value !== "object" || value === null) return [path];
  return Object.entries(value).flatMap(([key, v]) => paths(v, `${path}/${key}`));
}

/** Lists whose length is a matter of the language, and tables that only a translation needs. */
const FREE =
  /^\/(?:titles|list\/last_before|help_small|glossary_endings|measures|measure_texts|review|title_words|patient_by_sex|roles|duration_after|map|plain_map|charts)\b/u;
/** Names of gaps, such as `{n}`. */
const gaps = (text: string) => [...new Set(text.match(/\{\w+\}/gu) ?? [])].sort();

it("languages with texts and packs are these", () => {
  expect(knowledgeLanguages()).toEqual(LANGUAGES);
  expect(packLanguages()).toEqual(["de", "en", "en-US", "es"]);
});

describe.each(LANGUAGES)("the words of %s", (language) => {
  const english = wordsFile("en");
  const own = wordsFile(language);

  it("are read without a fault and ask for review", () => {
    const { pack, problems } = loadPack(language);
    expect(problems).toEqual([]);
    expect(pack?.words.review).toMatch(/native clinician/u);
  });

  it("hold every phrase that English holds, and no other", () => {
    const wanted = paths(english).filter((p) => !FREE.test(p));
    const had = paths(own).filter((p) => !FREE.test(p));
    expect(had.sort()).toEqual(wanted.sort());
  });

  it("keep the gaps of every phrase", () => {
    const at = (value: unknown, path: string): unknown =>
      path
        .split("/")
        .slice(1)
        .reduce<unknown>(
          (v, key) => (typeof v === "object" && v !== null ? Reflect.get(v, key) : undefined),
          value,
        );
    for (const path of paths(english).filter((p) => !FREE.test(p))) {
      const [from, to] = [at(english, path), at(own, path)];
      if (typeof from === "string" && typeof to === "string" && path !== "/date")
        expect(gaps(to), path).toEqual(gaps(from));
    }
  });

  it("name drawings and charts", () => {
    expect(Object.keys(own)).toEqual(expect.arrayContaining(["map", "plain_map", "charts"]));
  });

  it("name every measure a letter prints, with its caveats, classes and reference groups", () => {
    const { pack } = loadPack(language);
    const said = pack?.words.measure_texts ?? {};
    for (const id of IN_THE_LETTER) expect(pack?.words.measures[id], id).toBeDefined();
    const texts = [
      ...IN_THE_LETTER.map((id) => knowledge.scores[id]?.caveat),
      knowledge.scores["diameter-diversity"]?.caveat,
      ...Object.values(knowledge.normals).flatMap((file) =>
        normalsFileSchema.parse(file).map((n) => n.group),
      ),
      "of {n}",
      ...Object.values(knowledge.scores).flatMap(({ id, term, caveat, plain, recorded, inputs }) => {
        if (!recorded && !plain) return [];
        const choices = Object.values(inputs).flatMap((input) => Object.entries(input.choices ?? {}));
        const names = Object.values(recorded ?? {});
        return [
          ...(Object.hasOwn(pack?.words.measures ?? {}, id) || !recorded
            ? []
            : names.map((r) => r.term ?? term)),
          plain,
          caveat,
          // A choice of 0 goes without saying.
          ...choices.flatMap(([n, text]) => (n === "0" ? [] : text)),
          ...names.flatMap((r) => [
            r.plain?.name,
            ...Object.values(r.plain?.choices ?? {}),
            ...Object.values(r.plain?.instead ?? {}).flatMap((texts) => Object.values(texts)),
          ]),
        ];
      }),
      "older class",
      ...["none", "limited", "moderate", "severe", "very severe"],
    ].filter((t): t is string => typeof t === "string");
    expect(texts.filter((t) => !Object.hasOwn(said, t))).toEqual([]);
  });
});

describe.each(LANGUAGES)("the knowledge in %s", (language) => {
  const outcome = readLanguage(language);
  const texts = outcome.value;
  if (!texts) throw new Error(JSON.stringify(outcome.problems));
  const local = inLanguage(knowledge, language);

  it("is read without a fault", () => {
    expect(outcome.problems).toEqual([]);
  });

  it.each(["findings", "disorders", "cautions", "regions"] as const)("holds all %s and no other", (part) => {
    expect(Object.keys(texts[part]).sort()).toEqual(Object.keys(knowledge[part]).sort());
  });

  it("holds every fact that a letter can name, and no other", () => {
    const named = Object.values(knowledge.facts).filter(({ kind }) => kind !== "medicine class");
    expect(Object.keys(texts.facts).sort()).toEqual(named.map(({ id }) => id).sort());
    const same = named.filter(({ id, term }) => local.facts[id]?.term === term);
    expect(same.map(({ id }) => id)).toEqual([]);
  });

  it("holds every question that a visit may call for, and no other", () => {
    const called = Object.values(knowledge.facts).filter((f) => f.question && f.called_for);
    expect(Object.keys(texts.questions).sort()).toEqual(called.map(({ id }) => id).sort());
    for (const { id, question, called_for } of called) {
      expect(local.facts[id]?.question, id).not.toBe(question);
      expect(local.facts[id]?.called_for?.why, id).not.toBe(called_for?.why);
    }
  });

  it("has each part of each text that English has", () => {
    for (const [id, d] of Object.entries(knowledge.disorders)) {
      const own = texts.disorders[id];
      expect(own?.watch === undefined, id).toBe(d.letter.watch === undefined);
      expect(Object.keys(own?.patient.told ?? {}), id).toEqual(Object.keys(d.patient.told ?? {}));
      for (const told of Object.values(own?.patient.told ?? {})) expect(told, id).toContain("{name}");
      // Sentence stands for sentence, since circumstances are those of the English one.
      for (const part of ["is", "means", "next", "ask", "help"] as const)
        expect(own?.patient[part].length, `${id} ${part}`).toBe(d.patient[part].length);
    }
    for (const [id, c] of Object.entries(knowledge.cautions))
      for (const reader of ["doctor", "patient", "clinician"] as const)
        expect(texts.cautions[id]?.[reader] === undefined, `${id} ${reader}`).toBe(c[reader] === undefined);
    for (const [id, { must_not_miss: line }] of Object.entries(knowledge.cautions))
      for (const part of ["why", "who"] as const)
        expect(texts.cautions[id]?.[part] === undefined, `${id} ${part}`).toBe(line === undefined);
    for (const [id, c] of Object.entries(knowledge.cautions))
      for (const part of CAUTION_SENTENCES)
        expect(texts.cautions[id]?.[part]?.length, `${id} ${part}`).toBe(c[part]?.length);
  });

  it("keeps evidence, rules, ids and urgencies, and leaves the English knowledge alone", () => {
    const before = JSON.stringify(knowledge);
    for (const [id, d] of Object.entries(local.disorders)) {
      const english = knowledge.disorders[id];
      expect(d.evidence).toBe(english?.evidence);
      expect(d.patterns).toBe(english?.patterns);
      expect(d.patient.help.map((h) => h.how_fast)).toEqual(english?.patient.help.map((h) => h.how_fast));
    }
    expect(local.sources).toBe(knowledge.sources);
    expect(inLanguage(knowledge, `${language}-XX`).findings).toEqual(local.findings);
    expect(JSON.stringify(knowledge)).toBe(before);
  });

  it("changes every text: none stands in English by oversight", () => {
    const same = Object.keys(knowledge.findings).filter(
      (id) => local.findings[id]?.plain.means === knowledge.findings[id]?.plain.means,
    );
    const told = Object.keys(knowledge.disorders).filter((id) =>
      local.disorders[id]?.patient.is
        .map(wordsOf)
        .some((s) => knowledge.disorders[id]?.patient.is.map(wordsOf).includes(s)),
    );
    expect([...same, ...told]).toEqual([]);
  });
});

describe("texts laid over the knowledge", () => {
  it("change what they hold and nothing else", () => {
    const part = withTexts(knowledge, {
      findings: { lice: { term: "Läuse", name: "Läuse", means: "Läuse." } },
      disorders: {},
      cautions: {},
      facts: { animals: "Tiere" },
      questions: {},
      regions: { nape: "der Nacken" },
      glossary: {},
    });
    expect(part.findings.lice?.term).toBe("Läuse");
    expect(part.findings.lice?.mechanism).toBe(knowledge.findings.lice?.mechanism);
    expect(part.facts.animals?.term).toBe("Tiere");
    expect(part.facts.poison?.term).toBe(knowledge.facts.poison?.term);
    expect(part.findings.nodes).toBe(knowledge.findings.nodes);
    expect(part.regions.nape?.plain).toBe("der Nacken");
    expect(part.regions.nape?.also).toBe(knowledge.regions.nape?.also);
    expect(part.glossary).toBe(knowledge.glossary);
  });

  it("are none for English", () => {
    expect(inLanguage(knowledge, "en-GB")).toBe(knowledge);
    expect(inLanguage(knowledge, "../../etc")).toBe(knowledge);
  });
});
