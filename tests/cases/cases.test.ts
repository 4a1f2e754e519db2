/** The published cases hold to their format, and the engine keeps its promises on them. Figures per case: `npm run evaluate`. */
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { readCases } from "./read-cases.js";
import { runCase, totalsOf } from "./run-cases.js";

const knowledge = loadKnowledge();
const all = readCases(inPackage(join("tests", "cases")));
const cases = all.filter((c) => c.grade !== "taught");
const results = cases.map((c) => runCase(c, knowledge));
const totals = totalsOf(results, knowledge);

describe("published cases", () => {
  it("are at least thirty, each with its own id and known disorders", () => {
    expect(cases.length).toBeGreaterThanOrEqual(30);
    expect(new Set(cases.map((c) => c.id)).size).toBe(cases.length);
    for (const c of cases) {
      for (const id of c.confirmed) expect(Object.keys(knowledge.disorders), c.id).toContain(id);
    }
  });

  it("lead to the confirmed disorder in most, and hold it among three in nearly all", () => {
    expect(totals.top1 / totals.cases).toBeGreaterThanOrEqual(0.8);
    expect(totals.top3 / totals.cases).toBeGreaterThanOrEqual(0.94);
  });

  it("never see a confirmed scarring disease called unlikely", () => {
    expect(totals.scarring).toBeGreaterThan(5);
    expect(totals.scarringUnlikely).toBe(0);
  });

  it("raise the must-not-miss line of every scarring, fungal and syphilitic case", () => {
    expect(results.filter((r) => r.wanted && !r.mustNotMiss.includes(r.wanted)).map((r) => r.id)).toEqual([]);
  });

  it("are right in at least nineteen of twenty where the engine says strongly supported", () => {
    const strong = totals.calibration["strongly supported"];
    expect(strong?.cases).toBeGreaterThan(5);
    expect((strong?.right ?? 0) / (strong?.cases ?? 1)).toBeGreaterThanOrEqual(0.95);
  });

  it("show that context and patterns earn their place", () => {
    for (const part of ["context", "patterns"] as const) {
      const off = totalsOf(
        cases.map((c) => runCase(c, knowledge, { [part]: false })),
        knowledge,
      );
      expect(off.top1, `without ${part}`).toBeLessThan(totals.top1);
    }
  });
});

describe("taught pictures", () => {
  const pictures = all.filter((c) => c.grade === "taught");
  const pictured = pictures.map((c) => runCase(c, knowledge));
  const sum = totalsOf(pictured, knowledge);

  it("show every disorder at least three times, each picture with its own id", () => {
    const weighed = Object.values(knowledge.disorders).filter((d) => d.family !== "healthy");
    for (const { id } of weighed) {
      expect(pictures.filter((c) => c.confirmed.includes(id)).length, id).toBeGreaterThanOrEqual(3);
    }
    expect(new Set(all.map((c) => c.id)).size).toBe(all.length);
  });

  it("lead to what they show in nine of ten, and hold it among three in nearly all", () => {
    expect(sum.top1 / sum.cases).toBeGreaterThanOrEqual(0.9);
    expect(sum.top3 / sum.cases).toBeGreaterThanOrEqual(0.97);
  });

  it("raise every line that must not be missed", () => {
    expect(pictured.filter((r) => r.wanted && !r.mustNotMiss.includes(r.wanted)).map((r) => r.id)).toEqual(
      [],
    );
  });

  it("raise none where nothing calls for it", () => {
    const clean = ["pic-aga-woman48", "pic-aa-woman28", "pic-te-woman32-postpartum", "pic-ps-man40"];
    for (const id of clean) expect(pictured.find((r) => r.id === id)?.mustNotMiss, id).toEqual([]);
  });
});
