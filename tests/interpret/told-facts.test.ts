import { describe, expect, it } from "vitest";
import { factsOf } from "../../src/interpret/facts.js";
import { interpret } from "../../src/interpret/interpret.js";
import { weigh } from "../../src/interpret/weigh.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Fact, Knowledge } from "../../src/knowledge/schema.js";
import { HARBOUR, knowledgeWith, ROPE } from "./parts.js";
import { NO_MEASURES, site, type VisitParts, visitWith } from "./visits.js";

const shipped = loadKnowledge().facts["greasy-scale"];
function fact(id: string, kind: Fact["kind"], written: string[]): Fact {
  if (!shipped) throw new Error("no fact to begin with");
  const evidence = { "harbour-loss": [{ positive: 45, of: 50, source: "rope2020", how: "read" as const }] };
  return { ...shipped, id, term: id.replaceAll("-", " "), also: [], kind, written, evidence };
}
const base = knowledgeWith({
  absence: 0.5,
  facts: { elsewhere: { percent: [0, 8], basis: "common practice" }, from_words: 0.25 },
});
const knowledge: Knowledge = {
  ...base,
  facts: {
    "salt-skin": fact("salt-skin", "sign", ["salt skin"]),
    "sea-air": fact("sea-air", "exposure", ["sea air"]),
    "no-count": { ...fact("no-count", "sign", ["no count"]), evidence: {} },
  },
};

function told(parts: VisitParts) {
  const facts = factsOf(visitWith(parts), NO_MEASURES, knowledge);
  return weigh(facts, []).entries;
}
const brief = (parts: VisitParts) =>
  told(parts).map(({ entry, factor }) => [
    entry.id,
    entry.state,
    entry.kind === "fact" ? entry.words : undefined,
    factor,
  ]);

describe("facts that weigh", () => {
  it("are those recorded, yes or no, of which somebody counted", () => {
    expect(brief({ examination: { signs: { "salt-skin": true, "no-count": true } } })).toEqual([
      ["salt-skin", "present", false, 1],
    ]);
    expect(brief({ examination: { signs: { "salt-skin": false } } })).toEqual([
      ["salt-skin", "absent", false, 0.5],
    ]);
    expect(brief({ history: { exposures: ["sea-air"] } })).toEqual([["sea-air", "present", false, 1]]);
    expect(brief({})).toEqual([]);
  });

  it("weigh by how often they are met, and a no the other way", () => {
    const [yes] = told({ examination: { signs: { "salt-skin": true } } });
    const [no] = told({ examination: { signs: { "salt-skin": false } } });
    expect(yes?.row.cells[HARBOUR]).toMatchObject({ byDefault: false, source: "rope2020" });
    expect(yes?.row.cells[ROPE]).toMatchObject({
      byDefault: true,
      basis: "no study; our default of 0 to 8\u00a0%",
    });
    expect(yes?.row.weights[HARBOUR]).toBeGreaterThan(0.4);
    expect(yes?.row.weights[ROPE]).toBeCloseTo(-1.491, 3);
    expect(no?.row.weights[HARBOUR]).toBeCloseTo(-0.743, 3);
    expect(no?.row.weights[ROPE]).toBeGreaterThan(0.3);
  });

  it("weigh little where words alone speak for them, and words deny nothing", () => {
    expect(brief({ examination: { scalp: "Salt skin." } })).toEqual([["salt-skin", "present", true, 0.25]]);
    expect(brief({ examination: { scalp: "No salt skin." } })).toEqual([]);
    expect(brief({ examination: { scalp: "Salt skin.", signs: { "salt-skin": false } } })).toEqual([
      ["salt-skin", "absent", false, 0.5],
    ]);
  });

  it("stand in the ledger, and signs alone are grounds", () => {
    const read = (parts: VisitParts) =>
      interpret(
        visitWith({ sites: [site("vertex", { "knot-gaps": "none" })], ...parts }),
        NO_MEASURES,
        knowledge,
      )
        .disorders.find((d) => d.id === "harbour-loss")
        ?.for.filter((r) => r.kind === "fact");
    expect(read({ examination: { signs: { "salt-skin": true } } })).toMatchObject([
      { id: "salt-skin", says: "salt skin", examined: true, state: "present", source: "rope2020" },
    ]);
    expect(read({ history: { exposures: ["sea-air"] } })).toMatchObject([{ id: "sea-air", examined: false }]);
    expect(read({ examination: { scalp: "Salt skin." } })).toMatchObject([
      { says: "salt skin (read from words)", examined: false },
    ]);
  });

  it("of one site speak at that site", () => {
    const sites = [
      { ...site("vertex", { "tar-dots": "few" }), signs: { "salt-skin": true } },
      site("occipital", { "tar-dots": "few" }),
    ];
    const i = interpret(visitWith({ sites }), NO_MEASURES, knowledge);
    expect(i.sites.map((s) => s.leading.map((l) => l.id)[0])).toEqual(["harbour-loss", "harbour-loss"]);
    expect(i.sites[0]?.leading).toHaveLength(1);
    expect(i.sites[1]?.leading.length).toBeGreaterThan(1);
  });
});
