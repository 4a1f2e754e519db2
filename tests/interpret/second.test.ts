import { describe, expect, it } from "vitest";
import { type SiteFound, secondDisorder } from "../../src/interpret/second.js";
import { entry, HARBOUR, knowledgeWith, line, weighedFrom } from "./parts.js";

const shipped = knowledgeWith({});
const knowledge = knowledgeWith({
  bands: {
    ...shipped.weighing.bands,
    explains: 0.5,
    grounds: { ...shipped.weighing.bands.grounds, typical: 0.01 },
  },
  pairs: {
    cost: 3,
    apart: 2,
    in_one_place: { known: 1, other: 4 },
    known: [{ of: ["harbour-loss", "net-scar"], cost: 1, says: "Both.", source: "common practice" }],
  },
});
/** Present in one of a hundred of the first disorder: the gain is factor times ln(1 + p2 * 0.99 / 0.01). */
const salt = (net: number, rope: number, factor = 1) =>
  entry("salt-crust", [0, 0, 0], { frequencies: [0.01, net, rope], factor });
const gain = (p2: number, factor = 1) => factor * Math.log(1 + (p2 * 0.99) / 0.01);
const one: SiteFound[] = [{ site: "vertex", found: [1, 1, 1] }];

function second(parts: Parameters<typeof weighedFrom>[0], sites: readonly SiteFound[] = one) {
  return secondDisorder(weighedFrom(parts), HARBOUR, sites, knowledge);
}

describe("in one place", () => {
  it("a pair known to stand together needs less than another", () => {
    expect(second({ entries: [salt(0.1, 0.01)] })).toEqual({
      id: "net-scar",
      gain: gain(0.1) - 1,
      apart: 0,
      explains: ["salt-crust"],
    });
    expect(second({ entries: [salt(0.06, 0.01)] })).toBeUndefined();
    expect(gain(0.9) - 3).toBeLessThan(4);
    expect(second({ entries: [salt(0.01, 0.9)] })).toBeUndefined();
    expect(second({ entries: [salt(0.01, 0.9, 2)] })).toMatchObject({
      id: "rope-wear",
      gain: gain(0.9, 2) - 3,
    });
  });

  it("what both miss is no gain, and what was not seen speaks against supposing more", () => {
    const absent = entry("tar-dots", [0, 0, 0], { frequencies: [0.5, 0.9, 0.5], seen: { state: "absent" } });
    expect(second({ entries: [salt(0.5, 0.01)] })?.gain).toBeCloseTo(gain(0.5) - 1);
    expect(second({ entries: [salt(0.9, 0.01), absent] })?.gain).toBeCloseTo(gain(0.9) - 1 + Math.log(0.1));
  });

  it("starting weights and own rules count; shared history and patterns explained already do not", () => {
    const entries = [salt(0.5, 0.01)];
    const base = gain(0.5) - 1;
    expect(second({ entries, base: [9, -0.5, 0] })?.gain).toBeCloseTo(base - 0.5);
    const own = second({ entries, lines: [line("net-scar", 0.6)] });
    expect(own?.gain).toBeCloseTo(base + 0.6);
    expect(own?.explains).toEqual(["salt-crust", "a-rule"]);
    expect(second({ entries, lines: [line("net-scar", 0.59)] })?.explains).toEqual(["salt-crust"]);
    const context = line("net-scar", 2, { kind: "context" });
    expect(second({ entries, lines: [context] })).toMatchObject({ gain: base + 2, explains: ["salt-crust"] });
    expect(
      second({ entries, lines: [context, line("harbour-loss", 1, { kind: "context" })] })?.gain,
    ).toBeCloseTo(base);
    expect(
      second({ entries, lines: [context, line("harbour-loss", -1, { kind: "context" })] })?.gain,
    ).toBeCloseTo(base + 2);
    expect(
      second({
        entries,
        lines: [line("net-scar", -0.4, { kind: "context" }), line("harbour-loss", 1, { kind: "context" })],
      })?.gain,
    ).toBeCloseTo(base - 0.4);
  });

  it("must explain a finding that is usual in it, or bring a line of its own", () => {
    const { bands } = knowledge.weighing;
    const asking = {
      ...knowledge.weighing,
      bands: { ...bands, grounds: { ...bands.grounds, typical: 0.3 } },
    };
    const of = (net: number, weight: number) =>
      secondDisorder(
        weighedFrom({ entries: [salt(net, 0.01)], lines: [line("net-scar", weight)] }),
        HARBOUR,
        one,
        { ...knowledge, weighing: asking },
      )?.id;
    expect(of(0.3, 0)).toBe("net-scar");
    expect(of(0.29, 0)).toBeUndefined();
    expect(of(0.29, 0.6)).toBe("net-scar");
    expect(of(0.29, 0.59)).toBeUndefined();
  });

  it("is silent where nothing is left to explain", () => {
    expect(second({ entries: [], lines: [line("net-scar", 9, { kind: "context" })] })).toBeUndefined();
    const hardly = entry("salt-crust", [0, 0, 0], { frequencies: [0.5, 0.6, 0.5] });
    expect(second({ entries: [hardly], base: [0, 9, 0] })).toBeUndefined();
  });
});

describe("over several sites", () => {
  const sites = (harbour: number, net: number): SiteFound[] => [
    { site: "vertex", found: [harbour, 0, 0] },
    { site: "occipital", found: [0, net, 0] },
    { site: "nape", found: [] },
  ];
  const entries = [salt(0.1, 0.1)];

  it("one must speak for each, by so much, and supposing both must be worth its cost", () => {
    expect(second({ entries }, sites(2, 2))).toEqual({
      id: "net-scar",
      gain: gain(0.1) - 1,
      apart: 2,
      places: { first: "vertex", second: "occipital" },
      explains: ["salt-crust"],
    });
    expect(second({ entries }, sites(5, 1.99))).toBeUndefined();
    expect(second({ entries }, sites(1.99, 5))).toBeUndefined();
    expect(second({ entries: [salt(0.017, 0.1)] }, sites(3, 3))).toBeUndefined();
    expect(second({ entries: [salt(0.018, 0.1)] }, sites(3, 3))?.id).toBe("net-scar");
  });

  it("a site that shows nothing is none", () => {
    expect(
      second({ entries }, [
        { site: "vertex", found: [9, 0, 0] },
        { site: "nape", found: [] },
      ])?.apart,
    ).toBe(0);
  });

  it("takes the pair with most gain and distance together", () => {
    const both: SiteFound[] = [
      { site: "vertex", found: [9, 0, 0] },
      { site: "occipital", found: [0, 2, 6] },
    ];
    expect(second({ entries: [salt(0.1, 0.3)] }, both)?.id).toBe("rope-wear");
    expect(second({ entries: [salt(0.9, 0.3, 2)] }, both)?.id).toBe("net-scar");
  });
});
