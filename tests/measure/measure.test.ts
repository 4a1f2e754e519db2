/** What a visit yields: the right measures, the right gaps, and no zero for want of a count. */
import { describe, expect, test } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { measure } from "../../src/measure/index.js";
import type { Measures } from "../../src/measure/types.js";
import type { Site, Visit } from "../../src/visit/visit.js";
import { site, visit } from "./visit-for-tests.js";

const knowledge = loadKnowledge();
const of = (given: Partial<Visit>) => measure(visit(given), knowledge);
const one = (m: Measures, id: string, region?: string) =>
  m.measured.find((x) => x.id === id && (region === undefined || x.site === region));
const lacking = (m: Measures, id: string) => m.notMeasured.find((x) => x.id === id)?.missing;

const frontal = site("frontal", {
  fields: [
    {
      hairs: 40,
      thin: 8,
      vellus: 3,
      units: { "1": 10, "2": 12, "3": 2 },
      yellowDots: 2,
      discolouredOpenings: 3,
    },
    { hairs: 36, thin: 6, vellus: 4, units: { "1": 12, "2": 12 }, yellowDots: 1, discolouredOpenings: 4 },
  ],
});
const occipital = site("occipital", {
  fields: [{ hairs: 48, thin: 2, vellus: 1, units: { "1": 4, "2": 16, "3": 4 }, discolouredOpenings: 1 }],
});

describe("counts at a site", () => {
  const m = of({ scope: { fieldDiameterMm: 5 }, sites: [frontal, occipital] });

  test("density sums counts and areas first, with limits, n, unit, source", () => {
    const density = one(m, "hair-density", "frontal");
    expect(density?.value).toBeCloseTo((100 * 76) / (2 * Math.PI * 6.25), 6);
    expect(density).toMatchObject({ n: 76, unit: "/cm²", ucum: "/cm2", fromMemory: false });
    expect(density?.source).toContain("poisson-limits");
  });

  test("shares and units", () => {
    expect(one(m, "thin-share", "frontal")?.value).toBeCloseTo((100 * 14) / 76, 6);
    expect(one(m, "single-unit-share", "frontal")?.value).toBeCloseTo((100 * 22) / 48, 6);
    expect(one(m, "hairs-per-unit", "occipital")?.value).toBeCloseTo(2, 6);
    expect(one(m, "discoloured-openings", "frontal")?.value).toBeCloseTo((100 * 7) / 48, 6);
    expect(one(m, "terminal-vellus", "frontal")?.value).toBeCloseTo(62 / 7, 6);
    expect(one(m, "terminal-vellus", "frontal")?.caveat).toMatch(/biops/u);
  });

  test("ratios of front to back", () => {
    expect(one(m, "ratio-vellus")?.value).toBeCloseTo(3.5, 6);
    expect(one(m, "ratio-single-units")?.value).toBeCloseTo(22 / 48 / (4 / 24), 6);
    expect(one(m, "ratio-single-units")?.source).toContain("katz1978");
  });

  test("normals are shown where the source gives them, and a limit is a flag", () => {
    expect(one(m, "thin-share", "frontal")?.normal).toMatchObject({
      position: "above",
      high: 10,
      source: "rakowska2009-healthy",
    });
    expect(one(m, "thin-share", "occipital")?.normal?.position).toBe("within");
    expect(one(m, "hair-density", "frontal")?.normal).toBeUndefined();
  });

  test("one region recorded twice stays two sites", () => {
    const twice = of({ scope: { fieldDiameterMm: 5 }, sites: [occipital, occipital] });
    expect(twice.measured.filter((x) => x.id === "hair-density").map((x) => x.siteIndex)).toEqual([0, 1]);
  });
});

describe("normals only for the people they were taken from", () => {
  const thin = (patient: Partial<Visit["patient"]>) =>
    one(of({ sites: [frontal], patient: { ...visit().patient, ...patient } }), "thin-share")?.normal;

  test("not for men, nor outside the ages studied", () => {
    expect(thin({})).toBeDefined();
    expect(thin({ sex: "male" })).toBeUndefined();
    expect(thin({ born: "2016-01-01" })).toBeUndefined();
    expect(thin({ born: "1955-01-01" })).toBeUndefined();
  });

  test("density by the ancestry the patient gives, else none", () => {
    const density = (ancestry?: string) =>
      one(
        of({
          scope: { fieldDiameterMm: 5 },
          sites: [frontal],
          patient: { ...visit().patient, ...(ancestry === undefined ? {} : { ancestry }) },
        }),
        "hair-density",
      )?.normal;
    expect(density("West African, island-born")).toMatchObject({ low: 61, high: 261, position: "within" });
    expect(density("African American")?.source).toBe("birnbaum2018");
    expect(density("Faroese")).toBeUndefined();
    expect(density()).toBeUndefined();
  });

  test.each([
    ["frontal", 52, "below"],
    ["frontal", 53, "below"],
    ["frontal", 54, "within"],
    ["occipital", 51, "within"],
  ] as const)("mean of %s hairs of %i µm lies %s the limit of healthy women", (region, um, position) => {
    const m = of({ sites: [site(region, { diametersUm: [um, um, um] })] });
    expect(one(m, "shaft-diameter")?.normal?.position).toBe(position);
  });
});

describe("what is missing is said and never zero", () => {
  test("no field diameter, no density", () => {
    const m = of({ scope: { magnification: 20 }, sites: [frontal] });
    expect(one(m, "hair-density")).toBeUndefined();
    expect(lacking(m, "hair-density")).toMatch(/field diameter/u);
    expect(one(m, "thin-share")).toBeDefined();
  });

  test("an empty visit has gaps and no values", () => {
    const m = of({});
    expect(m.measured).toEqual([]);
    expect(lacking(m, "hair-density")).toMatch(/fields/u);
    expect(lacking(m, "shaft-diameter")).toMatch(/diameters/u);
  });

  test("a missing scalp area is not a zero", () => {
    const m = of({ extent: { top: 10, left: 0, right: 0 } });
    expect(one(m, "salt-score")).toBeUndefined();
    expect(lacking(m, "salt-score")).toMatch(/back/u);
  });

  test("a recorded zero is a zero", () => {
    const m = of({
      extent: { top: 0, left: 0, right: 0, back: 0 },
      sites: [site("vertex", { fields: [{ hairs: 0 }] })],
      scope: { fieldDiameterMm: 7 },
    });
    expect(one(m, "salt-score")?.value).toBe(0);
    expect(one(m, "hair-density")).toMatchObject({ value: 0, low: 0, n: 0 });
    expect(one(m, "hair-density")?.high).toBeGreaterThan(0);
  });

  test("counts that cannot be are refused, not worked", () => {
    const m = of({
      sites: [site("frontal", { fields: [{ hairs: 5, thin: 9, vellus: 8 }] })],
      pullTest: [{ site: "vertex", pulled: 20, cameOut: 30 }],
    });
    expect(one(m, "thin-share")).toBeUndefined();
    expect(lacking(m, "thin-share")).toMatch(/fits/u);
    expect(one(m, "hair-pull")).toBeUndefined();
  });

  test("an activity index is the total recorded, never worked from its items", () => {
    const items = { pruritus: 1, pain: 0, burning: 0, scalp_erythema: 1 };
    expect(one(of({ scores: { lppai: items } }), "lppai")).toBeUndefined();
    expect(one(of({ scores: { lppai: { ...items, total: 4.2 } } }), "lppai")).toMatchObject({
      value: 4.2,
      unit: "of 10",
      places: 1,
      fromMemory: true,
    });
  });

  test("no formula ships from memory", () => {
    expect(
      Object.values(knowledge.scores).filter(
        (s) => !s.recorded && (s.how === "memory" || /from memory/u.test(JSON.stringify(s))),
      ),
    ).toEqual([]);
  });
});

describe("rules", () => {
  const rule = (m: Measures, id: string) => m.rules.find((r) => r.id === id);

  test("criteria for women are not worked for men, and not decided for others", () => {
    const times = (given: Site, n: number) => ({
      ...given,
      fields: Array.from({ length: n }, () => given.fields).flat(),
    });
    const asked = (sex: Visit["patient"]["sex"], n = 20) =>
      rule(
        of({ sites: [times(frontal, n), times(occipital, n)], patient: { ...visit().patient, sex } }),
        "faga-trichoscopy-criteria",
      );
    expect(asked("male")).toBeUndefined();
    expect(asked("not stated")?.met).toBeNull();
    // Thin hairs 18.4 % (major), single units 2.75 and vellus 3.5 (minors).
    expect(asked("female")?.met).toBe(true);
    // The same shares of a twentieth of the hairs could be chance.
    expect(asked("female", 1)?.met).toBeNull();
    expect(asked("female", 1)?.criteria.find((c) => c.id === "thin-hairs-frontal")).toMatchObject({
      met: true,
      worked: "18.4 % (11.3 to 28.6) by these fields alone",
    });
    expect(asked("female", 1)?.criteria.find((c) => c.id === "vellus-hairs")?.met).toBeNull();
    expect(asked("female")?.limits).toMatch(/telogen effluvium/u);
  });

  test("yellow dots count only at the magnification of the rule, and over its fields", () => {
    const dots = (magnification: number, counts: number[]) =>
      rule(
        of({
          scope: { magnification },
          sites: [site("frontal", { fields: counts.map((yellowDots) => ({ yellowDots })) })],
        }),
        "faga-trichoscopy-criteria",
      )?.criteria.find((c) => c.id === "yellow-dots-frontal")?.met;
    expect(dots(20, [3, 3, 3, 3])).toBeNull();
    // Exact limits: 10 is 4.80 to 18.39, 9 is 4.12 to 17.08, 8 is 3.45 to 15.76, 0 is 0 to 3.69.
    expect(dots(70, [3, 3, 3, 0])).toBe(true);
    expect(dots(70, [2, 2, 2, 2])).toBeNull();
    expect(dots(70, [0, 0, 0, 1])).toBeNull();
    expect(dots(70, [0, 0, 0, 0])).toBe(false);
    expect(dots(70, [6, 3])).toBe(true);
    expect(dots(70, [0, 0])).toBeNull();
    expect(dots(70, [3, 3, 3, 0, 0])).toBeNull();
  });

  test("fewer than fifty measured shafts decide no thickness criterion", () => {
    const thinner = (n: number) =>
      rule(
        of({
          sites: [
            site("frontal", { diametersUm: Array<number>(n).fill(47) }),
            site("occipital", { diametersUm: Array<number>(n).fill(52) }),
          ],
        }),
        "faga-trichoscopy-criteria",
      )?.criteria.find((c) => c.id === "thinner-frontal")?.met;
    expect(thinner(49)).toBeNull();
    expect(thinner(50)).toBe(true);
  });

  test("one comma hair is enough; none seen decides only when all were looked for", () => {
    const seen = (findings: [string, "present" | "absent"][]) =>
      rule(
        of({
          sites: [
            site("vertex", {
              findings: findings.map(([finding, state]) =>
                state === "present"
                  ? { finding, seen: { state, amount: "few" } }
                  : { finding, seen: { state } },
              ),
            }),
          ],
        }),
        "tinea-single-sign",
      );
    expect(seen([["comma-hairs", "present"]])?.met).toBe(true);
    expect(seen([["comma-hairs", "absent"]])?.met).toBeNull();
    expect(seen([["yellow-dots", "present"]])).toBeUndefined();
    expect(seen([["comma-hairs", "present"]])?.limits).toMatch(/exchanged/u);
  });

  test("the tinea figures follow from the only whole numbers that fit", () => {
    const t = knowledge.scores["tinea-single-sign"] as unknown as {
      published: Record<"culture_positive" | "culture_negative" | "true_positive" | "true_negative", number>;
    };
    const p = t.published;
    expect(((100 * p.true_positive) / p.culture_positive).toFixed(0)).toBe("94");
    expect(((100 * p.true_negative) / p.culture_negative).toFixed(0)).toBe("83");
    const falsePositive = p.culture_negative - p.true_negative;
    const falseNegative = p.culture_positive - p.true_positive;
    expect(((100 * p.true_positive) / (p.true_positive + falsePositive)).toFixed(1)).toBe("86.2");
    expect(((100 * p.true_negative) / (p.true_negative + falseNegative)).toFixed(1)).toBe("92.9");
  });

  test("every sign of the tinea rule is a finding that can be recorded", () => {
    const signs = (knowledge.scores["tinea-single-sign"] as unknown as { signs: string[] }).signs;
    for (const sign of signs) expect(Object.keys(knowledge.findings)).toContain(sign);
  });
});

test("every printed measure has unit, source, places and honest position", () => {
  const m = of({
    scope: { fieldDiameterMm: 5, magnification: 70 },
    sites: [
      frontal,
      occipital,
      site("left parietal", { patch: { lengthMm: 30, widthMm: 20 }, diametersUm: [40, 50] }),
    ],
    extent: { top: 0, left: 5, right: 0, back: 0 },
    pullTest: [{ site: "vertex", pulled: 55, cameOut: 4, anagen: 1 }],
    scores: { trichogram: { anagen: 60, catagen: 1, telogen: 20, dystrophic: 2 } },
  });
  expect(m.measured.length).toBeGreaterThan(25);
  for (const x of m.measured) {
    expect(x.source.length, x.id).toBeGreaterThan(0);
    for (const id of x.source.split("; ")) {
      const known = id in knowledge.sources || id === "common practice" || id === "from memory";
      expect(known, `${x.id}: ${id}`).toBe(true);
      if (knowledge.sources[id]?.access === "memory" || id === "from memory")
        expect(x.fromMemory, x.id).toBe(true);
    }
    expect(x.ucum.length, x.id).toBeGreaterThan(0);
    if (x.low !== undefined) expect(x.low, x.id).toBeLessThanOrEqual(x.value);
    if (x.high !== undefined) expect(x.high, x.id).toBeGreaterThanOrEqual(x.value);
  }
  expect(JSON.parse(JSON.stringify(m))).toEqual(m);
});

describe("one interval for one number", () => {
  type Counts = readonly [
    hairs: number,
    thin: number,
    vellus: number,
    single: number,
    pairs: number,
    dark: number,
  ];
  const fields = (counts: readonly Counts[]) =>
    counts.map(([hairs, thin, vellus, single, pairs, discolouredOpenings]) => ({
      hairs,
      thin,
      vellus,
      units: { "1": single, "2": pairs },
      discolouredOpenings,
    }));
  const m = of({
    scope: { fieldDiameterMm: 5, magnification: 70 },
    sites: [
      site("frontal", {
        fields: fields([
          [50, 20, 9, 30, 10, 12],
          [52, 3, 1, 12, 20, 2],
          [48, 14, 7, 20, 14, 9],
        ]),
      }),
      site("occipital", {
        fields: fields([
          [50, 4, 2, 10, 20, 1],
          [51, 2, 1, 21, 15, 3],
          [55, 9, 4, 25, 15, 6],
        ]),
      }),
    ],
  });
  const worked = (id: string) => m.rules[0]?.criteria.find((c) => c.id === id)?.worked;
  const limits = (id: string, places: number, region?: string) => {
    const { low = 0, high = 0 } = one(m, id, region) ?? {};
    return `(${low.toFixed(places)} to ${high.toFixed(places)})`;
  };

  test("a criterion is held against the interval that its measure prints", () => {
    expect(worked("thin-hairs-frontal")).toContain(limits("thin-share", 1, "frontal"));
    expect(worked("vellus-hairs")).toContain(limits("ratio-vellus", 2));
    expect(worked("single-hair-units")).toContain(limits("ratio-single-units", 2));
  });

  // Design effects, Student's point and limits worked apart from this code; by 150 hairs alone thin ones are 18.5 to 32.1 %.
  test.each([
    ["thin-share", "(4.56 to 69.19)"],
    ["vellus-share", "(2.13 to 42.86)"],
    ["single-unit-share", "(21.75 to 87.72)"],
    ["discoloured-openings", "(5.60 to 56.40)"],
    ["terminal-vellus", "(0.91 to 48.46)"],
  ])("fields whose shares differ widely make %s less sure than its hairs alone", (id, expected) => {
    expect(limits(id, 2, "frontal")).toBe(expected);
    expect(one(m, id, "frontal")?.method).toContain("by the spread between the fields");
  });

  test("the ratio of two such shares has the spread of both", () => {
    expect(limits("ratio-thin", 3)).toBe("(0.414 to 15.900)");
    expect(limits("ratio-single-units", 3)).toBe("(0.562 to 2.181)");
  });

  test("yellow dots in front have the limits of their measure", () => {
    const dots = of({
      scope: { magnification: 70 },
      sites: [site("frontal", { fields: [1, 0, 14, 9].map((yellowDots) => ({ yellowDots })) })],
    });
    const { low = 0, high = 0 } = one(dots, "yellow-dots-four-fields", "frontal") ?? {};
    // By chance alone 24 dots are 15 to 36.
    expect(high).toBeGreaterThan(38);
    expect(dots.rules[0]?.criteria.find((c) => c.id === "yellow-dots-frontal")?.worked).toContain(
      `24 (${low.toFixed(0)} to ${high.toFixed(0)})`,
    );
  });

  test("hairs that stand alone by their units make no ratio of density wider, none in front is no exact zero", () => {
    const alone = of({
      scope: { fieldDiameterMm: 5 },
      sites: [
        site("frontal", { fields: [{ hairs: 60, thin: 0, units: { "1": 60 } }] }),
        site("occipital", { fields: [{ hairs: 60, thin: 6, units: { "1": 60 } }] }),
      ],
    });
    // Variance over mean t = 1 + 0.098^2 x 60, and exp(1.96 x root of 2 t / 60) is 1.57; hairs in units would give 1.82.
    expect(one(alone, "ratio-density")?.high).toBeCloseTo(1.57, 2);
    expect(one(alone, "ratio-thin")).toMatchObject({ value: 0, low: 0 });
    expect(one(alone, "ratio-thin")?.high).toBeGreaterThan(1);
  });
});
