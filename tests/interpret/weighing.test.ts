/** The shipped factors hang together: no name that nothing knows, and amounts that grow. */
import { describe, expect, it } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { REGIONS } from "../../src/visit/visit.js";

const { weighing, disorders, findings } = loadKnowledge();

describe("weighing.yaml", () => {
  it("names disorders and regions that exist", () => {
    for (const pair of weighing.pairs.known) {
      for (const id of pair.of) expect(Object.keys(disorders)).toContain(id);
      expect(pair.cost).toBeLessThan(weighing.pairs.cost);
    }
    for (const place of weighing.places) {
      for (const region of place.regions) expect(REGIONS).toContain(region);
    }
  });

  it("lets more of a finding never weigh less", () => {
    const { single_proves_little, single, few, several, many, throughout } = weighing.amounts;
    const order = [single_proves_little, single, few, several, many, throughout];
    expect(order).toEqual([...order].sort((x, y) => x - y));
    expect(weighing.absence).toBeLessThan(1);
  });

  it("finds a word for every subgroup it names in at least one evidence row", () => {
    const written = Object.values(disorders)
      .flatMap((d) => Object.values(d.evidence).flat())
      .map((r) => r.subgroup ?? "");
    for (const { word } of weighing.subgroups) {
      expect(
        written.some((s) => s.includes(word)),
        word,
      ).toBe(true);
    }
  });

  it("leaves every finding some weight", () => {
    for (const f of Object.values(findings)) expect(f.share, f.id).toBeGreaterThan(0);
  });
});
