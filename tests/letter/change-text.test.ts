/** Change in a letter, whole sentences on small comparisons. */
import { describe, expect, it } from "vitest";
import { changeText } from "../../src/letter/change-text.js";
import { loadPack } from "../../src/letter/pack.js";
import type { FindingChange, MeasureChange, Step } from "../../src/measure/change/types.js";
import { knowledge } from "./compose.js";

const { pack } = loadPack("en-GB");
if (!pack) throw new Error("en-GB");
const { words } = pack;

const stamp = (date: string) => ({ visit: date, date });
const BEFORE = stamp("2026-03-12");
const AFTER = stamp("2026-06-04");

function measure(
  id: string,
  term: string,
  before: number,
  after: number,
  more: Partial<MeasureChange>,
): MeasureChange {
  return {
    id,
    term,
    nth: 0,
    unit: "%",
    ucum: "%",
    places: 1,
    before: { ...BEFORE, value: before },
    after: { ...AFTER, value: after },
    difference: after - before,
    differenceUnit: "points",
    direction: after > before ? "up" : after < before ? "down" : "same",
    verdict: "within counting error",
    says: "",
    source: "common practice",
    fromMemory: false,
    ...more,
  };
}

function finding(id: string, kind: FindingChange["kind"], site: FindingChange["site"]): FindingChange {
  const seen = { state: "present", amount: "few" } as const;
  return { finding: id, kind, nth: 0, ...(site ? { site } : {}), before: seen, after: seen };
}

const said = (parts: Partial<Pick<Step, "measures" | "findings">>) =>
  // Hard spaces are the page's concern.
  changeText(words, knowledge, {
    from: BEFORE,
    to: AFTER,
    days: 84,
    measures: [],
    notCompared: [],
    findings: [],
    sitesOnlyBefore: [],
    sitesOnlyAfter: [],
    responses: [],
    activity: [],
    ...parts,
  }).replaceAll("\u00a0", " ");

const sure = { verdict: "more than counting error" } as const;
const thin = measure("thin-share", "Thin hairs (under 0.03 mm)", 6.3, 7, { site: "occipital" });
const pull = measure("hair-pull", "Hairs that came out on pulling", 15, 3.3, {
  ...sure,
  site: "vertex",
  p: 0.01,
});

describe("change in a letter", () => {
  it("puts what surely changed before what lies within error, whatever their order", () => {
    expect(said({ measures: [thin, pull] })).toBe(
      "More than counting error: hairs that came out on pulling (vertex) 15.0 to 3.3 %. No change shown beyond error: thin hairs.",
    );
  });

  it("puts the least likely to be chance first, and readings, of which that is not known, in the order given", () => {
    const density = { term: "Hair density", unit: "/cm²", places: 0, site: "vertex" } as const;
    const surer = measure("hair-density", "Hair density", 64, 137, { ...sure, ...density, p: 0.001 });
    expect(said({ measures: [pull, surer] })).toMatch(
      /: hair density \(vertex\) 64 to 137 per cm²; hairs that came out/u,
    );
    const read = { verdict: "more than measuring error" } as const;
    const shares = [
      measure("thin-share", "Thin hairs", 9, 7, read),
      measure("vellus-share", "Vellus hairs", 8, 6, read),
    ];
    expect(said({ measures: [...shares, pull] })).toMatch(
      /^More than counting error: hairs that came out .*: thin hairs 9.*; vellus hairs 8/u,
    );
  });

  it("tells apart from what shows no change what too few fields leave open", () => {
    const open = {
      ...thin,
      id: "vellus-share",
      term: "Vellus hairs",
      verdict: "too few fields to tell" as const,
    };
    expect(said({ measures: [thin, open, { ...open, site: "vertex" }] })).toBe(
      "No change shown beyond error: thin hairs. Not told apart from chance, too few fields counted: vellus hairs.",
    );
  });

  it("names the site of what is unchanged there and changed elsewhere", () => {
    const density = (site: "vertex" | "occipital", more: Partial<MeasureChange>) =>
      measure("hair-density", "Hair density", 100, 60, { unit: "/cm²", places: 0, site, ...more });
    expect(
      said({ measures: [density("vertex", { ...sure, p: 0.01 }), density("occipital", {}), thin] }),
    ).toBe(
      "More than counting error: hair density (vertex) 100 to 60 per cm². No change shown beyond error: hair density (occipital) and thin hairs.",
    );
  });

  it("tells no more than four sure changes", () => {
    const five = ["hair-density", "thin-share", "vellus-share", "single-unit-share", "shaft-diameter"].map(
      (id, i) => measure(id, `Measure ${i}`, 1, 2, { ...sure, p: (i + 1) / 100 }),
    );
    expect(said({ measures: five }).match(/measure \d/gu)).toEqual([
      "measure 0",
      "measure 1",
      "measure 2",
      "measure 3",
    ]);
  });

  it("says what was judged by eye, unless it prints the same", () => {
    const salt = (before: number, after: number) =>
      measure("salt-score", "SALT score", before, after, { verdict: null });
    expect(said({ measures: [salt(55.6, 19.8)] })).toBe("Judged by eye: scalp hair lost 55.6 to 19.8 %.");
    expect(said({ measures: [salt(1.11, 1.14)] })).toBe("No clear change in findings or counts.");
  });

  it("names each measure without change once, also what was counted too little", () => {
    const elsewhere = { ...thin, site: "vertex" as const, verdict: "too little counted to tell" as const };
    expect(said({ measures: [thin, elsewhere] })).toBe("No change shown beyond error: thin hairs.");
  });

  it("tells findings of the site where they changed", () => {
    expect(
      said({
        findings: [
          finding("black-dots", "went", "left parietal"),
          finding("broken-hairs", "went", "left parietal"),
          finding("black-dots", "shrank", "vertex"),
          finding("yellow-dots", "same", "vertex"),
          finding("upright-regrowing-hairs", "appeared", "vertex"),
          finding("yellow-dots", "grew", "vertex"),
        ],
      }),
    ).toBe(
      "Left parietal: black dots and broken hairs no longer seen. Vertex: upright regrowing hairs new; yellow dots more than before; black dots less than before.",
    );
  });

  it("names no site where there is only one", () => {
    expect(said({ findings: [finding("black-dots", "went", "vertex")] })).toBe("Black dots no longer seen.");
  });
});
