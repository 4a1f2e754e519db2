import { describe, expect, it } from "vitest";
import { factsOf } from "../../src/interpret/facts.js";
import { pictureOf } from "../../src/interpret/picture.js";
import { type Ablation, entryWeight, foundFor, weigh } from "../../src/interpret/weigh.js";
import { DISORDERS, entry, HARBOUR, knowledgeWith, line, NET, weighedFrom } from "./parts.js";
import { NO_MEASURES, type Shown, site, visitWith } from "./visits.js";

const knowledge = knowledgeWith({
  amounts: {
    single: 0.7,
    single_proves_little: 0.2,
    few: 0.8,
    several: 1,
    many: 1.2,
    throughout: 1.4,
    not_graded: 0.9,
  },
  absence: 0.5,
  sharpen: { findings: 2, patterns: 3, shares: 0.5 },
  context_limit: 4,
});

function weighed(findings: Record<string, Shown>, ablate: Ablation = {}, notes = "") {
  const visit = visitWith({ sites: [site("vertex", findings)], history: { notes } });
  const facts = factsOf(visit, NO_MEASURES, knowledge);
  return weigh(facts, pictureOf(facts, visit.sites), ablate);
}
const factor = (finding: string, how: Shown, ablate: Ablation = {}) =>
  weighed({ [finding]: how }, ablate).entries[0]?.factor;

describe("the factor of an entry", () => {
  it("is sharpening times amount times the root of its share", () => {
    expect(factor("tar-dots", "single")).toBeCloseTo(1.4);
    expect(factor("tar-dots", "few")).toBeCloseTo(1.6);
    expect(factor("tar-dots", "several")).toBeCloseTo(2);
    expect(factor("tar-dots", "many")).toBeCloseTo(2.4);
    expect(factor("tar-dots", "throughout")).toBeCloseTo(2.8);
    expect(factor("tar-dots", "seen")).toBeCloseTo(1.8);
    expect(factor("hooked-ends", "single")).toBeCloseTo(0.4);
    expect(factor("pale-rings", "several")).toBeCloseTo(2 * Math.SQRT1_2);
  });

  it("is tempered for what was looked for and not seen", () => {
    expect(factor("tar-dots", "none")).toBeCloseTo(1);
    expect(factor("pale-rings", "none")).toBeCloseTo(Math.SQRT1_2);
    expect(factor("hooked-ends", "none")).toBeCloseTo(1);
  });

  it("follows the parts that are switched off", () => {
    expect(factor("pale-rings", "several", { damping: false })).toBeCloseTo(2);
    expect(factor("tar-dots", "none", { absence: false })).toBe(0);
    expect(factor("tar-dots", "many", { amounts: false })).toBeCloseTo(2);
    expect(factor("pale-rings", "single", { amounts: false })).toBeCloseTo(2 * Math.SQRT1_2);
  });
});

describe("the score", () => {
  it("is the base, every entry and every rule", () => {
    const w = weighed({ "hooked-ends": "several", "tar-dots": "few" }, {}, "net maker");
    w.scores.forEach((score, d) => {
      const rules = w.lines.filter((l) => l.disorder === DISORDERS[d]).reduce((sum, l) => sum + l.weight, 0);
      expect(w.ruled[d]).toBeCloseTo(rules, 9);
      expect(score).toBeCloseTo(
        (w.base[d] ?? 0) + rules + w.entries.reduce((s, e) => s + entryWeight(e, d), 0),
        9,
      );
    });
    expect(w.base).toEqual([0.5, 0, 0]);
    expect(w.lines.map((l) => [l.disorder, l.id, l.rawWeight])).toEqual([
      ["harbour-loss", "hooks-and-dots", 1.5],
      ["harbour-loss", "works-at-sea", -1],
      ["net-scar", "works-at-sea", 3],
      ["rope-wear", "works-at-sea", -1],
    ]);
    expect(w.lines[0]?.weight).toBeCloseTo(4.5);
    expect(w.lines[2]?.weight).toBeCloseTo(4 * Math.tanh(3 / 4));
  });

  it("leaves out rules by kind or by name", () => {
    const ids = (ablate: Ablation) =>
      weighed({ "hooked-ends": "several", "tar-dots": "few" }, ablate, "net maker").lines.map((l) => l.id);
    expect(ids({ patterns: false })).toEqual(["works-at-sea", "works-at-sea", "works-at-sea"]);
    expect(ids({ context: false })).toEqual(["hooks-and-dots"]);
    expect(ids({ without: ["works-at-sea"] })).toEqual(["hooks-and-dots"]);
    expect(ids({ without: ["hooks-and-dots"] })).toEqual(["works-at-sea", "works-at-sea", "works-at-sea"]);
  });
});

describe("what was found for a disorder", () => {
  it("leaves history and starting weights out", () => {
    const fact = {
      ...entry("sea-air", [5, 0, 0]),
      entry: {
        kind: "fact",
        id: "sea-air",
        state: "present",
        examined: false,
        words: false,
      } as const,
    };
    const sign = {
      ...entry("salt-skin", [0.25, 0, 0]),
      entry: {
        kind: "fact",
        id: "salt-skin",
        state: "present",
        examined: true,
        words: false,
      } as const,
    };
    const w = weighedFrom({
      base: [9, 9, 9],
      entries: [entry("tar-dots", [1, -1, 0], { factor: 2 }), fact, sign],
      lines: [
        line("harbour-loss", 3),
        line("harbour-loss", 7, { kind: "context" }),
        line("net-scar", 0.5, { kind: "test" }),
      ],
    });
    expect(foundFor(w, HARBOUR)).toBe(5.25);
    expect(foundFor(w, NET)).toBe(-1.5);
    expect(foundFor(w, HARBOUR, (l) => l.weight < 3)).toBe(2.25);
  });
});
