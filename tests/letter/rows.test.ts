/** Sites, values and tests as a letter prints them, on small visits. */
import { describe, expect, it } from "vitest";
import { siteRows } from "../../src/letter/findings-table.js";
import { historyFacts, scopeText, testFacts } from "../../src/letter/history-facts.js";
import {
  measurementGroups,
  measurementTables,
  measuresOfLetter,
  sourceList,
} from "../../src/letter/measurements.js";
import { loadPack } from "../../src/letter/pack.js";
import { isFor } from "../../src/letter/recipients.js";
import { recordedScores } from "../../src/letter/recorded-scores.js";
import type { Measured } from "../../src/measure/types.js";
import type { Site, Visit } from "../../src/visit/visit.js";
import { exampleOf, knowledge } from "./compose.js";

const { pack } = loadPack("en-GB");
if (!pack) throw new Error("en-GB");
const { words } = pack;
const { visit } = exampleOf("TS-2026-0141");

const site = (parts: Partial<Site>): Site => ({
  site: "vertex",
  findings: [],
  fields: [],
  diametersUm: [],
  photos: [],
  ...parts,
});
const row = (parts: Partial<Site>) => siteRows(words, knowledge, [site(parts)])[0];

describe("a site", () => {
  it("keeps seen and looked-for apart, each with its amount", () => {
    const made = row({
      findings: [
        {
          finding: "black-dots",
          seen: { state: "present", amount: "several", count: { count: 14, fields: 2 } },
        },
        { finding: "yellow-dots", seen: { state: "present", amount: "few" } },
        { finding: "white-dots", seen: { state: "present", amount: null } },
        { finding: "broken-hairs", seen: { state: "absent" } },
      ],
    });
    expect(made?.present.map((p) => `${p.term} (${p.amount})`)).toEqual([
      "black dots (14 in 2 fields)",
      "yellow dots (few)",
      expect.stringMatching(/white dots \(seen\)$/u),
    ]);
    expect(made?.absent).toEqual(["broken hairs"]);
    expect(made?.nothingPlain).toBe("");
  });

  it("tells looked for and absent, only counted, and never looked for apart", () => {
    const absent = { finding: "black-dots", seen: { state: "absent" } } as const;
    expect(row({ findings: [absent] })?.nothing).toBe("none of those looked for");
    expect(row({ findings: [absent] })?.nothingPlain).toBe("we saw nothing we were looking for");
    for (const counted of [{ fields: [{ hairs: 80 }] }, { diametersUm: [60] }]) {
      expect(row(counted)?.nothing).toBe("hairs counted, no findings looked for");
      expect(row(counted)?.nothingPlain).toBe("we only counted hairs here");
    }
    expect(row({})?.nothing).toBe("no findings looked for");
    expect(row({})?.nothingPlain).toBe("we did not look closely here");
  });

  it.each([
    [32, 25, "about 3 cm across"],
    [37, 20, "about 3½ cm across"],
    [10, 4, "about 1 cm across"],
    [7, 9, "about 1 cm across"],
    [7, 6, "less than 1 cm across"],
  ])("of %d by %d mm is %s", (lengthMm, widthMm, plain) => {
    const made = row({ patch: { lengthMm, widthMm, margin: "sharp" } });
    expect(made?.patchPlain).toBe(plain);
    expect(made?.patch.replaceAll("\u00a0", " ")).toBe(`patch ${lengthMm} × ${widthMm} mm, sharp margin`);
  });
});

describe("values", () => {
  const measured = (parts: Partial<Measured>): Measured => ({
    id: "thin-share",
    term: "Thin hairs (under 0.03 mm)",
    site: "vertex",
    siteIndex: 0,
    value: 33.1,
    unit: "%",
    ucum: "%",
    low: 25.3,
    high: 41.8,
    n: 121,
    places: 1,
    source: "common practice",
    fromMemory: false,
    ...parts,
  });
  const made = (all: readonly Measured[], scores: Visit["scores"] = {}) =>
    measurementTables(
      measurementGroups(
        words,
        all,
        sourceList(words, knowledge.sources),
        measuresOfLetter({ scores }),
        (id) => id,
      ),
    );

  it("stand with interval and count under their site, and no reference that says nothing", () => {
    expect(made([measured({}), measured({ site: "occipital", value: 5, low: 2, high: 9, n: 90 })])).toEqual({
      measurementTables: [
        {
          sitesBelow: false,
          heads: ["Vertex", "Occipital"],
          rows: [
            {
              term: "Thin hairs (under 0.03 mm)",
              cells: [
                { figure: "33.1\u00a0%", interval: "(25.3–41.8; 121)" },
                { figure: "5.0\u00a0%", interval: "(2.0–9.0; 90)" },
              ],
            },
          ],
        },
      ],
      published: [],
      wholeScalp: [],
    });
  });

  it("of two patches in one region share its cell, and a site without the measure has an empty one", () => {
    const table = made([
      measured({}),
      measured({ value: 20, low: 15, high: 26 }),
      measured({
        id: "vellus-share",
        term: "Vellus hairs",
        site: "occipital",
        value: 5,
        low: 2,
        high: 9,
        n: 90,
      }),
    ]);
    expect(table.measurementTables.flatMap(({ rows }) => rows.map(({ cells }) => cells))).toEqual([
      [
        { figure: "", interval: "33.1\u00a0% (25.3–41.8; 121); 20.0\u00a0% (15.0–26.0; 121)" },
        { figure: "", interval: "" },
      ],
      [
        { figure: "", interval: "" },
        { figure: "5.0\u00a0%", interval: "(2.0–9.0; 90)" },
      ],
    ]);
  });

  it("name each published range once, with the places that share it", () => {
    const normal = (place: string, high: number) => ({
      high,
      group: `healthy women, ${place} (mean 5.5, SD 4.8)`,
      source: "rakowska2009-healthy",
      position: "above" as const,
    });
    const table = made([
      measured({ site: "frontal", normal: normal("frontal", 10) }),
      measured({ site: "occipital", normal: normal("occipital", 10) }),
      measured({ site: "vertex", normal: normal("vertex", 13) }),
    ]);
    expect(table.published).toEqual([
      "thin hairs below 10\u00a0% (healthy women, frontal and occipital) [1]; below 13\u00a0% (healthy women, vertex) [1]",
    ]);
  });

  it("of the whole scalp stand as a sentence with their class alone", () => {
    const {
      site: _site,
      low: _low,
      high: _high,
      n: _n,
      ...salt
    } = measured({
      id: "salt-score",
      term: "SALT score",
      value: 19.8,
      band: "limited (AA-IGA); S1 (older class)",
      fromMemory: true,
    });
    expect(made([salt]).wholeScalp).toEqual(["Scalp hair lost (SALT score): 19.8\u00a0%, limited"]);
  });

  it("stand side by side, with their units, where more than three sites stand below each other", () => {
    const sites = ["vertex", "occipital", "nape", "frontal"] as const;
    const thin = sites.map((s, i) => measured({ site: s, value: i + 1 }));
    const dense = measured({
      id: "hair-density",
      term: "Hair density",
      site: "nape",
      unit: "/cm²",
      places: 0,
    });
    expect(made([...thin, dense]).measurementTables).toEqual([
      {
        sitesBelow: true,
        heads: ["Hair density, /cm²", "Thin hairs (under 0.03 mm), %"],
        rows: ["Vertex", "Occipital", "Nape", "Frontal"].map((term, i) => ({
          term,
          cells: [
            term === "Nape" ? { figure: "33", interval: "(25–42; 121)" } : { figure: "", interval: "" },
            { figure: `${i + 1}.0`, interval: "(25.3–41.8; 121)" },
          ],
        })),
      },
    ]);
    expect(made(thin.slice(1)).measurementTables).toMatchObject([{ sitesBelow: false }]);
  });

  it("of many sites stand in as few tables as the width allows, of about the same size", () => {
    const sites = ["vertex", "occipital", "nape", "frontal"] as const;
    const of = (ids: readonly string[]) =>
      made(ids.flatMap((id) => sites.map((site) => measured({ id, term: id, site })))).measurementTables.map(
        ({ heads, rows }) => [heads.length, rows.length],
      );
    const ids = ["hair-density", "single-unit-share", "thin-share", "vellus-share", "shaft-diameter"];
    expect(of(ids.slice(0, 4))).toEqual([[4, 4]]);
    expect(of(ids)).toEqual([
      [3, 4],
      [2, 4],
    ]);
  });

  it("of a score the clinician recorded are printed, of others not", () => {
    const comb = measured({ id: "comb-test", term: "Sixty-second comb test" });
    expect(made([comb]).measurementTables).toEqual([]);
    expect(made([comb], { comb_test: { day_1: 12 } }).measurementTables).toHaveLength(1);
    const total = measured({ id: "wash-test-total", term: "Hairs shed in one wash" });
    expect(made([total], { "wash-test": { total: 312 } }).measurementTables).toHaveLength(1);
    expect(made([total], { wash: { total: 312 } }).measurementTables).toHaveLength(1);
    expect(made([total], { was: { total: 312 } }).measurementTables).toEqual([]);
  });
});

describe("recorded scores", () => {
  it("print every answer in words", () => {
    const said = recordedScores(
      words,
      knowledge,
      {
        lppai: { total: 4.5, pruritus: 2, pull_test: 1, spreading: 1 },
        trichogram: { anagen: 70.5 },
        ffa_criteria: { eyebrow_loss: 0, biopsy: 1 },
        unknown: { thing: 3 },
        empty: {},
      },
      [],
    );
    expect(said.map((s) => `${s.term}: ${s.answers.join(", ")}`)).toEqual([
      "Lichen planopilaris activity index: itch 2/3, anagen pull test: positive, hair loss: unclear",
      "Trichogram: anagen hairs: 70.5",
      "Diagnostic criteria for frontal fibrosing alopecia (2018): diffuse loss of both eyebrows: no, biopsy in keeping: yes",
      "unknown: thing: 3",
    ]);
  });

  it("say whether the criteria are met", () => {
    const rule = {
      id: "ffa-criteria",
      term: "t",
      criteria: [],
      says: "",
      source: "common practice",
      fromMemory: false,
    };
    const result = (met: boolean | null) =>
      recordedScores(words, knowledge, { "ffa-criteria": { biopsy: 1 } }, [{ ...rule, met }])[0]?.result;
    expect([result(true), result(false), result(null)]).toEqual(["met", "not met", "not assessable"]);
  });
});

describe("tests", () => {
  it("of one day tell it once where they stand in one sentence, and each in a list", () => {
    const tests = ["ferritin", "zinc", "iron"].map((name, i) => ({
      name,
      result: "normal",
      date: i < 2 ? "2026-03-02" : "2026-03-09",
    }));
    const dated = (inOneSentence: boolean) =>
      testFacts(words, { ...visit, tests }, { inOneSentence }).map(({ says }) => says);
    expect(dated(true)).toEqual([
      "ferritin: normal",
      "zinc: normal (each 2 March 2026)",
      "iron: normal (9 March 2026)",
    ]);
    expect(dated(false)).toEqual([
      "ferritin: normal (2 March 2026)",
      "zinc: normal (2 March 2026)",
      "iron: normal (9 March 2026)",
    ]);
  });

  const said = (test: Visit["tests"][number]) => testFacts(words, { ...visit, tests: [test] })[0];

  it("carry the laboratory's range, a flag outside it, and that they lie within it up to its edges", () => {
    const ferritin = (value: number) => ({
      name: "ferritin",
      value,
      unit: "ug/L",
      range: { low: 30, high: 200 },
    });
    expect(said({ ...ferritin(18), date: "2026-03-01" })).toEqual({
      says: "ferritin 18\u00a0µg/L (range 30 to 200; 1 March 2026)",
      flag: "below range",
      within: "",
    });
    expect([29.9, 30, 200, 200.1].map((v) => said(ferritin(v))?.flag)).toEqual([
      "below range",
      "",
      "",
      "above range",
    ]);
    expect(said({ name: "CRP", value: 7, range: { high: 5 } })).toEqual({
      says: "CRP 7 (range below 5)",
      flag: "above range",
      within: "",
    });
    expect([29.9, 30, 200, 200.1].map((v) => said(ferritin(v))?.within)).toEqual([
      "",
      "within range",
      "within range",
      "",
    ]);
    expect(said({ name: "ferritin", value: 41 })).toEqual({ says: "ferritin 41", flag: "", within: "" });
    expect(said({ name: "culture", result: "awaited" })).toEqual({
      says: "culture: awaited",
      flag: "",
      within: "",
    });
    expect(said({ name: "TSH", value: 0.41, unit: "mU/L", result: "repeat" })?.says).toBe(
      "TSH 0.41\u00a0mU/L, repeat",
    );
  });
});

describe("history", () => {
  const facts = (history: Partial<Visit["history"]>) =>
    historyFacts(words, knowledge, { ...visit, pullTest: [], history: { ...visit.history, ...history } });

  it("prints symptoms as scored and medicines with since, stopped and for", () => {
    expect(facts({ symptoms: { itch: 3.5, pain: 0.4, burning: 0 } }).symptoms).toEqual([
      "itch\u00a03.5",
      "pain\u00a00.4",
      "burning\u00a00",
    ]);
    expect(
      facts({
        medicines: [
          { name: "levothyroxine" },
          { name: "azathioprine", sinceWeeks: 3, for: "eczema" },
          { name: "docetaxel", stoppedWeeks: 6 },
        ],
      }).medicines,
    ).toBe(
      "levothyroxine, azathioprine (for eczema; started 3 weeks ago) and docetaxel (stopped 6 weeks ago)",
    );
    expect(facts({ medicines: [], allergies: [] })).toMatchObject({ medicines: "", allergies: "" });
  });

  it("says when it began, by the key that was written", () => {
    const began = (b: NonNullable<Visit["history"]["began"]>) =>
      facts({ began: b }).lines.find((l) => l.label === "Began")?.text;
    expect(began({ when: "birth" })).toBe("since birth");
    expect(began({ weeksBefore: 26 })).toBe("about 6 months before the visit");
    expect(began({ ageYears: 12 })).toBe("at the age of 12");
  });

  it("writes the dermoscope in four words", () => {
    expect(
      scopeText(words, { magnification: 20, light: "polarised", contact: "dry", fieldDiameterMm: 11.5 }),
    ).toBe("20-fold, polarised, dry, field 11.5 mm");
    expect(scopeText(words, {})).toBe("");
  });
});

describe("a plan line is for a reader", () => {
  const gp = { role: "GP", name: "Dr Ilse Brandt", address: [], copy: false };
  const forReader = (who: string, reader: Parameters<typeof isFor>[1]) =>
    isFor({ who, action: "Act." }, reader);

  it("by role in either spelling, by name, or by why they read", () => {
    expect(forReader("general practitioner", gp)).toBe(true);
    expect(forReader("gp", { ...gp, role: "general practitioner" })).toBe(true);
    expect(forReader("Dr Ilse Brandt", gp)).toBe(true);
    expect(forReader("school", { ...gp, role: "school nurse" })).toBe(true);
    expect(forReader("care", { ...gp, role: "dermatologist" })).toBe(false);
    expect(forReader("dermatologist", gp)).toBe(false);
    expect(forReader("GP", null)).toBe(false);
  });
});
