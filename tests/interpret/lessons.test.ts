/** What cases met before add: to the score, to every draw and to the ledger, and to nothing else. */
import { describe, expect, it } from "vitest";
import { factsOf } from "../../src/interpret/facts.js";
import { explainJson, interpret } from "../../src/interpret/interpret.js";
import { pictureOf } from "../../src/interpret/picture.js";
import { rankingOf } from "../../src/interpret/sampling.js";
import { weigh } from "../../src/interpret/weigh.js";
import { HARBOUR, knowledgeWith, NET, ROPE } from "./parts.js";
import { NO_MEASURES, type Shown, site, visitWith } from "./visits.js";

const plain = knowledgeWith({});
const taught = {
  ...plain,
  lessons: {
    cases: { published: 3, taught: 4 },
    findings: {
      "tar-dots": { present: { "harbour-loss": 0.5, "net-scar": -0.25 }, absent: { "rope-wear": 1 } },
    },
    facts: {},
  },
};

function weighed(knowledge: typeof plain, how: Shown) {
  const visit = visitWith({ sites: [site("vertex", { "tar-dots": how })] });
  const facts = factsOf(visit, NO_MEASURES, knowledge);
  return weigh(facts, pictureOf(facts, visit.sites));
}

describe("lessons", () => {
  it.each([
    ["many", [0.5, -0.25, 0]],
    ["none", [0, 0, 1]],
  ] as const)("add factor times lesson to a finding shown %s", (how, lessons) => {
    const before = weighed(plain, how);
    const after = weighed(taught, how);
    const factor = after.entries[0]?.factor ?? 0;
    expect(factor).toBeGreaterThan(0);
    expect(after.entries[0]?.row.lessons).toEqual(lessons);
    [HARBOUR, NET, ROPE].forEach((d) => {
      expect((after.scores[d] ?? 0) - (before.scores[d] ?? 0)).toBeCloseTo(factor * (lessons[d] ?? 0), 9);
    });
    expect(after.entries[0]?.row.frequencies).toEqual(before.entries[0]?.row.frequencies);
  });

  it("move every draw by as much as the score", () => {
    const knowledge = {
      ...taught,
      lessons: { ...taught.lessons, findings: { "tar-dots": { present: { "harbour-loss": 9 } } } },
    };
    expect(rankingOf(weighed(plain, "many"), plain).leads[HARBOUR]).toBeLessThan(0.9);
    expect(rankingOf(weighed(knowledge, "many"), knowledge).leads[HARBOUR]).toBeCloseTo(1, 9);
  });

  it("stand in the ledger as part of the weight, and only where they are", () => {
    const visit = visitWith({ sites: [site("vertex", { "tar-dots": "many" })] });
    const { disorders } = interpret(visit, NO_MEASURES, taught);
    const reason = (id: string) => {
      const of = disorders.find((d) => d.id === id);
      return [...(of?.for ?? []), ...(of?.against ?? [])].find((r) => r.id === "tar-dots");
    };
    const factor = weighed(taught, "many").entries[0]?.factor ?? 0;
    expect(reason("harbour-loss")?.fromCases).toBeCloseTo(0.5 * factor, 3);
    expect(reason("net-scar")?.fromCases).toBeCloseTo(-0.25 * factor, 3);
    expect(reason("rope-wear")).not.toHaveProperty("fromCases");
    const json = JSON.stringify(explainJson(interpret(visit, NO_MEASURES, taught), NO_MEASURES));
    expect(json).toContain(`"from_cases":${reason("harbour-loss")?.fromCases},`);
  });
});
