import { describe, expect, it } from "vitest";
import { factsOf } from "../../src/interpret/facts.js";
import { besideHealthy } from "../../src/interpret/healthy.js";
import { unexplainedBy } from "../../src/interpret/unexplained.js";
import { entry, HARBOUR, knowledgeWith, line, NET, weighedFrom } from "./parts.js";
import { NO_MEASURES, visitWith } from "./visits.js";

const knowledge = knowledgeWith({
  healthy: {
    share: 0.1,
    within: 1,
    common: 0.2,
    amounts: { single: 1, few: 1, several: 0.5, many: 0.25, throughout: 0.1 },
    any_amount: ["knot-gaps"],
    complaint: { mentions: ["loss"], in: ["reason"] },
  },
  frequency_limits: [0.005, 0.985],
  unexplained: { seldom: 0.1, strong: 2, several: 2, pattern: 1 },
});
const facts = (reason = "") => factsOf(visitWith({ reason }), NO_MEASURES, knowledge);
/** Seen in 20 of a hundred on average; a healthy scalp shows it as often as given. */
const tar = (weight: number, healthy = 0.2, parts: Parameters<typeof entry>[2] = {}) =>
  entry("tar-dots", [weight, 0, 0], { healthy, seen: { amount: "few" }, ...parts });
const beside = (w: ReturnType<typeof weighedFrom>, signed = false, reason = "") =>
  besideHealthy(facts(reason), w, HARBOUR, signed);

describe("a healthy scalp", () => {
  it("compares while the leader explains what was found by no more than the limit better", () => {
    expect(beside(weighedFrom({ entries: [tar(1)] }))).toEqual({
      comparable: true,
      quiet: true,
      calm: true,
      why: "The findings recorded are also seen on healthy scalps.",
      ahead: [1, 0, 0],
    });
    expect(beside(weighedFrom({ entries: [tar(1.01)] }))).toMatchObject({
      comparable: false,
      quiet: true,
      why: "The findings speak for harbour loss more than for a healthy scalp.",
    });
  });

  it("is not left behind by what cases taught about disorders alone", () => {
    const taught = tar(3, 0.2, { lessons: [2.5, 0, 0], factor: 2 });
    expect(beside(weighedFrom({ entries: [taught] })).ahead).toEqual([1, 0, 0]);
  });

  it("does not compare with a complaint, a scarring sign, an alarm, or nothing recorded", () => {
    const of = (w: ReturnType<typeof weighedFrom>, signed = false, reason = "") => {
      const { comparable, quiet, why } = beside(w, signed, reason);
      return [comparable, quiet, why];
    };
    const w = weighedFrom({ entries: [tar(0)] });
    expect(of(w, false, "Hair loss")).toEqual([
      false,
      false,
      "A complaint or sign of hair loss is recorded.",
    ]);
    expect(of(weighedFrom({ entries: [entry("salt-crust", [0, 0, 0])] }))).toEqual([
      false,
      false,
      "A sign of scarring is recorded.",
    ]);
    expect(of(w, true)).toEqual([
      false,
      false,
      "Something that must not be missed is raised by what was recorded.",
    ]);
    expect(of(weighedFrom({}))).toEqual([false, false, "No finding was recorded, present or absent."]);
  });

  it("is calm for all of a duration, and not with a complaint, a scarring sign or an alarm", () => {
    const lasting = (reason: string) =>
      factsOf(visitWith({ reason, history: { durationWeeks: 8 } }), NO_MEASURES, knowledge);
    const calm = (w: ReturnType<typeof weighedFrom>, signed = false, reason = "") => {
      const { comparable, quiet, calm } = besideHealthy(lasting(reason), w, HARBOUR, signed);
      return [comparable, quiet, calm];
    };
    const w = weighedFrom({ entries: [tar(0)] });
    expect(calm(w)).toEqual([false, false, true]);
    expect(calm(w, false, "Hair loss")).toEqual([false, false, false]);
    expect(calm(w, true)).toEqual([false, false, false]);
    expect(calm(weighedFrom({ entries: [entry("salt-crust", [0, 0, 0])] }))).toEqual([false, false, false]);
    expect(calm(weighedFrom({}))).toEqual([false, false, false]);
  });

  it("explains a finding by how often it is seen there, much of it less often", () => {
    const ahead = (healthy: number, amount: "few" | "several" | "many" | null, finding = "tar-dots") =>
      beside(weighedFrom({ entries: [entry(finding, [0, 0, 0], { healthy, factor: 2, seen: { amount } })] }))
        .ahead[0];
    expect(ahead(0.4, "few")).toBeCloseTo(-2 * Math.log(2));
    expect(ahead(0.4, null)).toBeCloseTo(-2 * Math.log(2));
    expect(ahead(0.4, "several")).toBeCloseTo(0);
    expect(ahead(0.4, "many")).toBeCloseTo(2 * Math.log(2));
    expect(ahead(0.4, "many", "knot-gaps")).toBeCloseTo(-2 * Math.log(2));
    expect(ahead(0, "few")).toBeCloseTo(2 * Math.log(0.2 / 0.005));
    const absent = entry("tar-dots", [0, 0, 0], { healthy: 0.6, seen: { state: "absent", amount: null } });
    expect(beside(weighedFrom({ entries: [absent] })).ahead[0]).toBeCloseTo(Math.log(0.8 / 0.4));
  });

  it("is not outrun by history, nor by a pattern of findings that are common there", () => {
    const pattern = (weight: number) => line("harbour-loss", weight, { id: "hooks-and-dots" });
    const hooks = (healthy: number) => entry("hooked-ends", [0, 0, 0], { healthy, seen: { amount: "few" } });
    const ahead = (w: Parameters<typeof weighedFrom>[0]) => beside(weighedFrom(w)).ahead[0];
    expect(ahead({ entries: [tar(0)], lines: [line("harbour-loss", 5, { kind: "context" })] })).toBe(0);
    expect(ahead({ entries: [tar(0), hooks(0.2)], lines: [pattern(3)] })).toBeCloseTo(0);
    expect(ahead({ entries: [tar(0), hooks(0.199)], lines: [pattern(3)] })).toBeGreaterThan(2.9);
    expect(ahead({ entries: [tar(0), hooks(0.2)], lines: [pattern(-3)] })).toBeCloseTo(-3);
    expect(ahead({ entries: [tar(0)], lines: [line("harbour-loss", 3)] })).toBeCloseTo(3);
  });
});

describe("what the leader leaves unexplained", () => {
  const dots = (net: number, parts: Parameters<typeof entry>[2] = {}) =>
    entry("tar-dots", [0, net, 0], { frequencies: [0.05, 0.5, 0.2], ...parts });
  const left = (w: Parameters<typeof weighedFrom>[0], second: readonly string[] = []) =>
    unexplainedBy(weighedFrom(w), HARBOUR, second, knowledge);

  it("is a sign that it shows seldom, and healthy scalps as seldom", () => {
    expect(left({ entries: [dots(1)] })).toEqual({ ids: ["tar-dots"], holdsBack: false });
    expect(left({ entries: [dots(1, { frequencies: [0.1, 0.5, 0.2] })] }).ids).toEqual([]);
    expect(left({ entries: [dots(1, { healthy: 0.1 })] }).ids).toEqual([]);
    expect(left({ entries: [dots(1, { seen: { state: "absent" } })] }).ids).toEqual([]);
    expect(unexplainedBy(weighedFrom({ entries: [dots(1)] }), -1, [], knowledge)).toEqual({
      ids: [],
      holdsBack: false,
    });
    expect(unexplainedBy(weighedFrom({ entries: [dots(1)] }), NET, [], knowledge).ids).toEqual([]);
  });

  it("is not what a pattern of the leader names", () => {
    const pattern = line("harbour-loss", 1, { id: "hooks-and-dots" });
    expect(left({ entries: [dots(1)], lines: [pattern] }).ids).toEqual([]);
    expect(left({ entries: [dots(1)], lines: [{ ...pattern, weight: -1 }] }).ids).toEqual(["tar-dots"]);
    expect(left({ entries: [dots(1)], lines: [{ ...pattern, disorder: "net-scar" }] }).ids).toEqual([
      "tar-dots",
    ]);
  });

  it("holds back when another disorder explains it clearly better, or when there are several", () => {
    expect(left({ entries: [dots(2)] }).holdsBack).toBe(true);
    expect(left({ entries: [dots(1.99)] }).holdsBack).toBe(false);
    expect(left({ entries: [dots(4, { factor: 0.5 })] }).holdsBack).toBe(true);
    const hooks = entry("hooked-ends", [0, 1.5, 0], { frequencies: [0.05, 0.5, 0.2] });
    expect(left({ entries: [dots(1), hooks] })).toEqual({
      ids: ["hooked-ends", "tar-dots"],
      holdsBack: true,
    });
  });

  it("holds back while a pattern of the leader speaks clearly against it, unless a second disorder explains that", () => {
    const against = (weight: number, disorder = "harbour-loss") =>
      line(disorder, weight, { id: "hooks-and-dots" });
    expect(left({ lines: [against(-1)] })).toEqual({ ids: [], holdsBack: true });
    expect(left({ lines: [against(-0.99)] }).holdsBack).toBe(false);
    expect(left({ lines: [against(-1, "net-scar")] }).holdsBack).toBe(false);
    expect(left({ lines: [line("harbour-loss", -3, { id: "a-rule", kind: "context" })] }).holdsBack).toBe(
      false,
    );
    expect(left({ lines: [against(-1)] }, ["hooked-ends", "tar-dots"]).holdsBack).toBe(false);
    expect(left({ lines: [against(-1)] }, ["hooked-ends"]).holdsBack).toBe(true);
  });

  it("does not hold back when a second disorder explains it", () => {
    expect(left({ entries: [dots(2)] }, ["tar-dots"])).toEqual({ ids: ["tar-dots"], holdsBack: false });
  });

  it("counts signs seen on examination, not history nor words", () => {
    const fact = (examined: boolean, words: boolean) => {
      const e = dots(3);
      return left({
        entries: [{ ...e, entry: { kind: "fact", id: "tar-dots", state: "present", examined, words } }],
      }).ids;
    };
    expect(fact(true, false)).toEqual(["tar-dots"]);
    expect(fact(true, true)).toEqual([]);
    expect(fact(false, false)).toEqual([]);
  });
});
