import { describe, expect, it } from "vitest";
import { factsOf } from "../../src/interpret/facts.js";
import { information, lookNext, type Spared } from "../../src/interpret/look-next.js";
import { pictureOf } from "../../src/interpret/picture.js";
import { weigh } from "../../src/interpret/weigh.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { HARBOUR, knowledgeWith, NET, ROPE } from "./parts.js";
import { smallKnowledge } from "./small-knowledge.js";
import { NO_MEASURES, type Shown, site, visitWith } from "./visits.js";

describe("information", () => {
  it("is a bit for a sure answer between two equals, and none where the chances are equal", () => {
    expect(
      information(
        [0.5, 0.5],
        [
          [1, 0],
          [0, 1],
        ],
      ),
    ).toBeCloseTo(1);
    expect(
      information(
        [0.5, 0.5],
        [
          [0.3, 0.3],
          [0.7, 0.7],
        ],
      ),
    ).toBeCloseTo(0);
    expect(
      information(
        [1, 0],
        [
          [1, 0],
          [0, 1],
        ],
      ),
    ).toBeCloseTo(0);
    expect(
      information(
        [0.25, 0.75],
        [
          [1, 0],
          [0, 1],
        ],
      ),
    ).toBeCloseTo(0.8113, 4);
    expect(
      information(
        [0.5, 0.5],
        [
          [0.8, 0.2],
          [0.2, 0.8],
        ],
      ),
    ).toBeCloseTo(0.2781, 4);
  });
});

const { effort, ...rest } = knowledgeWith({}).weighing;

function read(
  findings: Record<string, Shown>,
  shares: readonly [number, number, number],
  change: {
    readonly effort?: typeof effort;
    readonly knowledge?: Partial<Knowledge>;
    readonly sparing?: Spared;
  } = {},
  tests: readonly { name: string; result: string }[] = [],
) {
  const knowledge = smallKnowledge({
    weighing: { ...rest, effort: change.effort ?? [] },
    ...change.knowledge,
  });
  const visit = visitWith({ sites: [site("vertex", findings)], tests });
  const facts = factsOf(visit, NO_MEASURES, knowledge);
  const weighed = weigh(facts, pictureOf(facts, visit.sites));
  const candidates = [HARBOUR, NET, ROPE].map((d) => ({
    d,
    id: weighed.cells.disorders[d] ?? "",
    share: shares[d] ?? 0,
  }));
  return lookNext(facts, weighed, candidates, change.sparing ?? "nothing");
}
const names = (list: ReturnType<typeof lookNext>) => list.map((l) => l.lookFor);

describe("what to look at next", () => {
  it("names what was not assessed, with what it separates, most telling first", () => {
    const list = read({ "tar-dots": "few", "pale-rings": "few" }, [0.5, 0.4, 0.1]);
    expect(names(list)).toEqual(["salt titre", "salt-crust", "hooked-ends", "knot-gaps"]);
    expect(list.map((l) => l.kind)).toEqual(["test", "finding", "finding", "finding"]);
    expect(list.map((l) => l.separates)).toEqual([
      ["net-scar", "harbour-loss"],
      ["net-scar", "harbour-loss"],
      ["harbour-loss", "net-scar"],
      ["rope-wear", "harbour-loss"],
    ]);
    expect(list[0]?.says).toBe("salt titre would separate net scar from harbour loss");
    expect(list[2]?.says).toBe("hooked ends would separate harbour loss from net scar");
    expect(list.map((l) => l.bits)).toEqual([0.689, 0.357, 0.22, 0.072]);
  });

  it("asks for at least two candidates", () => {
    const knowledge = smallKnowledge();
    const facts = factsOf(visitWith({}), NO_MEASURES, knowledge);
    expect(lookNext(facts, weigh(facts, []), [{ d: 0, id: "harbour-loss", share: 1 }], "nothing")).toEqual(
      [],
    );
  });

  it("doubts even what looks sure a little", () => {
    const bits = (shares: readonly [number, number, number]) =>
      read({ "tar-dots": "few" }, shares).find((l) => l.lookFor === "hooked-ends")?.bits ?? 0;
    expect(bits([1, 0, 0])).toBe(0.05);
    expect(bits([1, 0, 0])).toBeLessThan(bits([0.5, 0.5, 0]));
  });

  it("leaves out a test that was done", () => {
    expect(
      names(read({ "tar-dots": "few" }, [0.5, 0.4, 0.1], {}, [{ name: "Salt titre", result: "borderline" }])),
    ).not.toContain("salt titre");
  });
});

describe("a test that wounds", () => {
  const wound = (worth: number) => [{ words: ["salt titre"], worth, wounds: true }];
  const shares = [0.5, 0.4, 0.1] as const;
  const findings = { "tar-dots": "few", "pale-rings": "few" } as const;

  it("counts for less, and comes after every look that tells half as much", () => {
    expect(
      names(read(findings, shares, { effort: [{ words: ["salt titre"], worth: 1, wounds: false }] })),
    ).toEqual(["salt titre", "salt-crust", "hooked-ends", "knot-gaps"]);
    const [full] = read(findings, shares).filter((l) => l.kind === "test");
    const [half] = read(findings, shares, { effort: wound(0.5) }).filter((l) => l.kind === "test");
    expect(half?.bits).toBe(0.344);
    expect(full?.bits).toBe(0.689);
    expect(names(read(findings, shares, { effort: wound(1) }))).toEqual([
      "salt-crust",
      "salt titre",
      "hooked-ends",
      "knot-gaps",
    ]);
    const looked = { ...findings, "hooked-ends": "none", "salt-crust": "none" } as const;
    expect(names(read(looked, shares, { effort: wound(1) }))).toEqual(["salt titre", "knot-gaps"]);
    expect(names(read(looked, shares, { effort: wound(0.5) }))).toEqual(["salt titre", "knot-gaps"]);
  });

  it("is not for a healthy-looking scalp, nor any test where nothing else is raised", () => {
    expect(names(read(findings, shares, { sparing: "tests" }))).toEqual([
      "salt-crust",
      "hooked-ends",
      "knot-gaps",
    ]);
    expect(names(read(findings, shares, { effort: wound(1), sparing: "wounds" }))).toEqual([
      "salt-crust",
      "hooked-ends",
      "knot-gaps",
    ]);
    expect(names(read(findings, shares, { sparing: "wounds" }))).toContain("salt titre");
  });
});
