/** What to look for, on a small knowledge: how many of each kind, in which order, and what is left out. */
import { describe, expect, test } from "vitest";
import { firstLook, lookFor } from "../../src/exchange/look-for.js";
import type { Disorder, EvidenceRow, Finding, Knowledge } from "../../src/knowledge/schema.js";
import { testKnowledge } from "../visit/test-knowledge.js";

type Shares = Readonly<Record<string, number | readonly Partial<EvidenceRow>[]>>;

const row = (figure: Partial<EvidenceRow>) =>
  ({ source: "common practice", how: "memory", ...figure }) as EvidenceRow;
const evidence = (shares: Shares): Disorder["evidence"] =>
  Object.fromEntries(
    Object.entries(shares).map(([id, share]) => [
      id,
      typeof share === "number" ? [row({ percent: share })] : share.map(row),
    ]),
  );
const base = testKnowledge.disorders["alopecia-areata"] as Disorder;
const disorder = (id: string, shares: Shares, more: Partial<Disorder> = {}): Disorder => ({
  ...base,
  id,
  term: id,
  evidence: evidence(shares),
  ...more,
});
const finding = (id: string, more: Partial<Finding> = {}): Finding => ({
  ...(testKnowledge.findings["yellow-dots"] as Finding),
  id,
  term: id,
  ...more,
});
const small = (findings: readonly Finding[], disorders: readonly Disorder[]): Knowledge => ({
  ...testKnowledge,
  findings: Object.fromEntries(findings.map((f) => [f.id, f])),
  disorders: Object.fromEntries(disorders.map((d) => [d.id, d])),
  frequencyWords: { common: [40, 60] } as Knowledge["frequencyWords"],
});
const letters = [..."abcdefghijkl"];
const all = letters.map((id) => finding(id));

describe("for a disorder", () => {
  const groups = (one: Disorder, others: readonly Disorder[] = [], findings = all) =>
    lookFor(one, small(findings, [one, ...others])).map(
      ({ heading, why, findings: ids }) => `${heading}|${why}|${ids.join("")}`,
    );

  test("its own ten most common from a tenth on, equal ones by name, those without an entry left out", () => {
    const shares = Object.fromEntries(letters.map((id, i) => [id, 70 - 5 * i]));
    expect(groups(disorder("X", { ...shares, unheard: 99 }))).toEqual(["X||abcdefghij"]);
    expect(groups(disorder("X", { b: 30, a: 30, c: 10, d: 9.9 }))).toEqual(["X||abc"]);
    expect(groups(disorder("X", { a: 1 }))).toEqual([]);
  });

  test("three of what it is taken for, where it shows a finding by 15 in a hundred more, each once", () => {
    const shares = { a: 90, b: 80, c: 70, d: 60, e: 50, f: 65 };
    const mimics = [
      { disorder: "Y", tell: "Scale.", source: "common practice" },
      { disorder: "none", tell: "", source: "common practice" },
      { disorder: "Z", tell: "Pus.", source: "common practice" },
    ] as unknown as Disorder["mimics"];
    const one = disorder("X", { f: 50, e: 45 }, { mimics });
    expect(groups(one, [disorder("Y", shares), disorder("Z", { a: 90, d: 15, e: 59, f: 64 })])).toEqual([
      "X||fe",
      "Y|Scale.|abc",
      "Z|Pus.|d",
    ]);
  });

  test("the mean of studies of the whole disorder counts, else of its parts; rates by another unit do not", () => {
    const rows = (own: readonly Partial<EvidenceRow>[]) =>
      groups(disorder("X", { a: own, b: 30 }))[0]?.split("|")[2];
    expect(rows([{ percent: 20 }, { percent: 60 }])).toBe("ab");
    expect(rows([{ percent: 20 }, { percent: 90, subgroup: "children" } as Partial<EvidenceRow>])).toBe("ba");
    expect(rows([{ percent: 90, site: "vertex" } as Partial<EvidenceRow>, { percent: 20 }])).toBe("ba");
    expect(rows([{ percent: 90, subgroup: "children" } as Partial<EvidenceRow>])).toBe("ab");
    expect(rows([{ percent: 90, unit: "hair" } as Partial<EvidenceRow>])).toBe("b");
    expect(rows([{ frequency: "common" } as Partial<EvidenceRow>])).toBe("ab");
    expect(rows([{ frequency: "unknown" } as unknown as Partial<EvidenceRow>])).toBe("b");
    expect(rows([{ positive: 1, of: 2, percent: 1 }])).toBe("ab");
  });

  test("two signs of scarring for everyone, those of most scarring disorders first", () => {
    const signs = ["s", "t", "u"].map((id) => finding(id, { scarring_sign: true }));
    const scars = [
      disorder("P", { u: 1, t: 1 }, { family: "scarring" }),
      disorder("Q", { u: 1 }, { family: "scarring" }),
      disorder("R", { s: 1, t: 1 }),
    ];
    const told = "signs of scarring, looked for in everyone||";
    expect(groups(disorder("X", { a: 20 }), scars, [...all, ...signs])).toEqual(["X||a", `${told}ut`]);
    expect(groups(disorder("X", { u: 20 }), scars, [...all, ...signs])).toEqual(["X||u", `${told}ts`]);
  });
});

test("at first: of each kind five that most disorders show in a fifth, then the signs of scarring", () => {
  const vessel = { group: "vessel" as const };
  const findings = [
    ...all,
    finding("v", vessel),
    finding("w", vessel),
    finding("s", { scarring_sign: true }),
  ];
  const each = { a: 20, b: 20, c: 20, d: 20, e: 20, f: 20, v: 20, w: 19, s: 20 };
  const more = { f: 20, e: 20 };
  expect(
    firstLook(small(findings, [disorder("X", each), disorder("Y", more), disorder("Z", { f: 20 })])),
  ).toEqual([
    { heading: "follicular opening", why: "", findings: ["f", "e", "a", "b", "c"] },
    { heading: "vessel", why: "", findings: ["v"] },
    { heading: "signs of scarring, looked for in everyone", why: "", findings: ["s"] },
  ]);
});
