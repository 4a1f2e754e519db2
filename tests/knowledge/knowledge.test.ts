/** The shipped knowledge: complete, sourced, in plain words, and true to the facts of the trade. */
import { beforeAll, describe, expect, test } from "vitest";
import { foldWord } from "../../src/base/nearest.js";
import type { Problem } from "../../src/base/problem.js";
import { readKnowledge, readLanguage, spellings } from "../../src/knowledge/load.js";
import { type EvidenceRow, type Finding, type Knowledge, UNSOURCED } from "../../src/knowledge/schema.js";
import { wordsOf } from "../../src/knowledge/sentence.js";
import { REGIONS } from "../../src/visit/visit.js";

let knowledge: Knowledge;
let problems: readonly Problem[];
let findings: readonly Finding[];

beforeAll(() => {
  const outcome = readKnowledge();
  problems = outcome.problems;
  if (!outcome.value) {
    throw new Error(problems.map((p) => `${p.file}:${p.line} ${p.message}`).join("\n"));
  }
  knowledge = outcome.value;
  findings = Object.values(knowledge.findings);
});

/** Every object below `value` that has a key `source` or `basis`, with the path to it. */
function sourced(value: unknown, path = ""): { path: string; source: string }[] {
  if (Array.isArray(value)) return value.flatMap((v, i) => sourced(v, `${path}[${i}]`));
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, v]) =>
    (key === "source" || key === "basis") && typeof v === "string"
      ? [{ path: `${path}.${key}`, source: v }]
      : sourced(v, `${path}.${key}`),
  );
}

function allRows(): { where: string; row: EvidenceRow }[] {
  const of = (where: string, rows: readonly EvidenceRow[]) => rows.map((row) => ({ where, row }));
  return [
    ...Object.values(knowledge.disorders).flatMap((d) =>
      Object.entries(d.evidence).flatMap(([finding, rows]) => of(`${d.id} ${finding}`, rows)),
    ),
    ...Object.entries(knowledge.healthy).flatMap(([finding, rows]) => of(`healthy ${finding}`, rows)),
  ];
}

describe("the shipped files", () => {
  test("load without an error", () => {
    const errors = problems.filter((p) => p.severity === "error");
    expect(errors.map((p) => `${p.file}:${p.line} ${p.message}`)).toEqual([]);
  });

  test("hold at least 24 disorders and 55 findings", () => {
    expect(Object.keys(knowledge.disorders).length).toBeGreaterThanOrEqual(24);
    expect(findings.length).toBeGreaterThanOrEqual(55);
  });

  test("name a source for every value, and every source is listed or says that there is none", () => {
    const { sources, ...rest } = knowledge;
    const named = sourced(rest);
    expect(named.length).toBeGreaterThan(500);
    const unlisted = named.flatMap(({ path, source }) =>
      source
        .split(/\s*;\s*/u)
        .filter((s) => !sources[s] && !(UNSOURCED as readonly string[]).includes(s))
        .map((s) => `${path}: ${s}`),
    );
    expect(unlisted).toEqual([]);
    expect(allRows().filter(({ row }) => !row.source || !row.how)).toEqual([]);
  });

  test("keep counts possible, and a value without a publication is from memory", () => {
    for (const { where, row } of allRows()) {
      if (row.positive !== undefined && row.of !== undefined) {
        expect(row.positive, where).toBeLessThanOrEqual(row.of);
      }
      if (row.range) expect(row.range[0], where).toBeLessThanOrEqual(row.range[1]);
      const unseen = knowledge.sources[row.source]?.access === "memory";
      if (unseen || (UNSOURCED as readonly string[]).includes(row.source)) {
        expect(row.how, where).toBe("memory");
      }
    }
  });

  test("give each finding seen in a disorder a file of its own, and use each finding", () => {
    const used = new Set(Object.values(knowledge.disorders).flatMap((d) => Object.keys(d.evidence)));
    expect(Object.keys(knowledge.findings).filter((id) => !used.has(id))).toEqual([]);
  });
});

describe("a finding", () => {
  test("has a plain name and one plain sentence, without promise or blame", () => {
    const never = /\b(cure[ds]?|will grow back|self-inflicted|your fault|habit|admits?|mg)\b/iu;
    for (const { id, plain } of findings) {
      expect(plain.name, id).toMatch(/^[a-z0-9].*[^.]$/u);
      expect(plain.means, id).toMatch(/^[A-Z][^.!?]*\.$/u);
      expect(plain.means.split(/\s+/u).length, id).toBeLessThanOrEqual(24);
      expect(`${plain.name} ${plain.means}`, id).not.toMatch(never);
      expect(plain.name, id).not.toMatch(/follic|eryth|perifoll|vellus|dystroph/iu);
    }
  });

  test("is called by one plain name only", () => {
    const names = findings.map((f) => f.plain.name);
    expect(names.filter((n, i) => names.indexOf(n) !== i)).toEqual([]);
  });

  test("is found by its term, its id and its trade synonyms", () => {
    const words = new Map([...spellings(knowledge.findings)].map(([w, id]) => [foldWord(w), id]));
    for (const [word, id] of [
      ["exclamation mark hairs", "exclamation-mark-hairs"],
      ["Bar-code hairs", "morse-code-hairs"],
      ["short hidden hairs", "triangular-hairs"],
      ["coudability hairs", "tapered-hairs"],
      ["circle hairs", "pigtail-hairs"],
      ["peripilar casts", "hair-casts"],
      ["arborizing vessels", "arborising-vessels"],
      ["anisotrichosis", "diameter-variability"],
    ] as const) {
      expect(words.get(foldWord(word)), word).toBe(id);
    }
  });

  test("that stands in a correlation group does not leave the group at full weight", () => {
    const groups = new Map<string, Finding[]>();
    for (const f of findings) {
      if (f.mechanism !== "alone") groups.set(f.mechanism, [...(groups.get(f.mechanism) ?? []), f]);
    }
    for (const [mechanism, members] of groups) {
      expect(members.length, `${mechanism} has one member: call it alone`).toBeGreaterThan(1);
      const joint = members.reduce((sum, f) => sum + f.share, 0);
      expect(joint, mechanism).toBeLessThan(members.length);
    }
    const breakage = groups.get("surface-breakage")?.map((f) => f.id) ?? [];
    expect(breakage).toEqual(
      expect.arrayContaining(["black-dots", "broken-hairs", "exclamation-mark-hairs", "tapered-hairs"]),
    );
  });

  test("proves little alone where the trade says so", () => {
    const alone = (id: string) => knowledge.findings[id]?.one_alone_counts;
    for (const id of [
      "comma-hairs",
      "coiled-hairs",
      "flame-hairs",
      "broken-hairs",
      "upright-regrowing-hairs",
    ]) {
      expect(alone(id), id).toBe(false);
    }
    for (const id of ["exclamation-mark-hairs", "lice", "golf-tee-hairs", "loss-of-openings"]) {
      expect(alone(id), id).toBe(true);
    }
  });

  test("is expected elsewhere in an interval that fits how specific it is", () => {
    for (const { id, elsewhere } of findings) {
      expect(elsewhere.percent[0], id).toBeLessThan(elsewhere.percent[1]);
    }
    const top = (id: string) => knowledge.findings[id]?.elsewhere.percent[1] ?? Number.NaN;
    for (const id of ["comma-hairs", "lice", "golf-tee-hairs", "beaded-shaft"]) {
      expect(top(id), id).toBeLessThanOrEqual(2);
    }
    for (const id of [
      "broken-hairs",
      "yellow-dots",
      "short-vellus-hairs",
      "honeycomb-pigment",
      "diffuse-scale",
    ]) {
      expect(top(id), id).toBeGreaterThanOrEqual(40);
    }
  });

  test("says that it goes with scarring only where it does", () => {
    const scarring = findings.filter((f) => f.scarring_sign).map((f) => f.id);
    expect(scarring).toEqual(expect.arrayContaining(["loss-of-openings", "white-areas", "milky-red-areas"]));
    for (const id of ["yellow-dots", "empty-openings", "pinpoint-white-dots", "white-dots", "comma-hairs"]) {
      expect(scarring, id).not.toContain(id);
    }
  });
});

describe("a disorder", () => {
  test("that is feared is not named to the patient, in any language", () => {
    const feared =
      /cancer|krebs|cáncer|tumou?r|metasta|melanom|carcinom|karzinom|malign|neoplas|lympho|linfoma|mycosis|micosis|fungoid/iu;
    const tumours = Object.values(knowledge.disorders).filter((d) => d.family === "tumour");
    expect(tumours.map((d) => d.id)).toEqual([
      "alopecia-neoplastica",
      "follicular-mucinosis",
      "skin-cancer-of-the-scalp",
    ]);
    for (const language of ["en", "de", "es"]) {
      const texts = language === "en" ? knowledge.disorders : readLanguage(language).value?.disorders;
      for (const { id } of tumours)
        expect(JSON.stringify(texts?.[id]?.patient), `${language} ${id}`).not.toMatch(feared);
    }
  });

  test("of the healthy family stands alone and claims nothing beyond what was looked at", () => {
    const healthy = Object.values(knowledge.disorders).filter((d) => d.family === "healthy");
    expect(healthy.map((d) => d.id)).toEqual(["nothing-abnormal-found"]);
    expect(healthy[0]?.letter.about).toContain("holds for the regions examined on that day, not for others");
    expect(wordsOf(healthy[0]?.patient.means[0] ?? "")).toMatch(/^In the parts we looked at, /u);
    expect(healthy[0]?.evidence).toEqual({});
  });
});

describe("words", () => {
  test("every region of the map has plain words, and no spelling means two regions", () => {
    expect(Object.keys(knowledge.regions).sort()).toEqual([...REGIONS].sort());
    const owner = new Map<string, string>();
    for (const [region, { also, plain }] of Object.entries(knowledge.regions)) {
      expect(plain).toMatch(/^the /u);
      for (const word of new Set([region, ...also].map(foldWord))) {
        expect(owner.get(word), word).toBeUndefined();
        owner.set(word, region);
      }
    }
  });

  test("the glossary explains at least sixty words, each in a sentence that does not lean on the word", () => {
    const entries = Object.entries(knowledge.glossary);
    expect(entries.length).toBeGreaterThanOrEqual(60);
    for (const [word, means] of entries) {
      expect(means, word).toMatch(/^[A-Z].*\.$/u);
      expect(means.toLowerCase().split(/[^a-z-]+/u), word).not.toContain(word);
    }
    for (const word of [
      "biopsy",
      "dermoscope",
      "follicle",
      "scarring",
      "culture",
      "shaft",
      "density",
      "vertex",
    ]) {
      expect(knowledge.glossary[word], word).toBeDefined();
    }
  });

  test("the healthy backdrop keeps means of hairs apart from shares of people", () => {
    const thin = knowledge.healthy["thin-hairs"] ?? [];
    expect(thin.length).toBeGreaterThan(0);
    expect(thin.every((row) => row.unit !== undefined)).toBe(true);
    expect(knowledge.healthy["yellow-dots"]?.find((row) => row.source === "hu2014")).toMatchObject({
      positive: 7,
      of: 50,
    });
  });
});
