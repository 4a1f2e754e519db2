import { describe, expect, it } from "vitest";
import { findingsNamed, holds } from "../../src/interpret/conditions.js";
import { factsOf, withBands } from "../../src/interpret/facts.js";
import type { Condition } from "../../src/knowledge/condition.js";
import { smallKnowledge } from "./small-knowledge.js";
import { NO_MEASURES, site, visitWith } from "./visits.js";

const visit = visitWith({
  patient: { born: "1992-05-20", sex: "female", phototype: "V" },
  history: {
    durationWeeks: 9,
    onset: "sudden",
    symptoms: { itch: 3 },
    medicines: [{ name: "levothyroxine" }],
    notes: "Denies braids. Sailmaker.",
  },
  sites: [
    site("left temporal", { "hooked-ends": "single", "tar-dots": "none" }),
    site("vertex", { "hooked-ends": "several", "pale-rings": "seen" }),
  ],
  tests: [
    { name: "Salt titre", result: "high, 1:64" },
    { name: "Tar level", value: 7, unit: "ug/L" },
  ],
  impression: [
    { disorder: "harbour-loss", certainty: "probable" },
    { disorder: "net-scar", certainty: "excluded" },
  ],
  plan: [
    { who: "clinic", action: "A call in spring" },
    { who: "clinic", action: "Biopsy from the margin", answers: ["cordage", "scarring"] },
    { who: "patient", action: "A salt wash, then a tar scraping", answers: ["salt"], declined: true },
  ],
});
const measures = {
  ...NO_MEASURES,
  measured: [
    {
      id: "hair-density",
      term: "Hair density",
      site: "vertex" as const,
      value: 143,
      unit: "/cm²",
      ucum: "/cm2",
      places: 0,
      source: "x",
      fromMemory: false,
    },
  ],
};
const facts = factsOf(visit, measures, smallKnowledge());

const yes: readonly Condition[] = [
  { finding: "hooked-ends", at_least: "several" },
  { finding: ["knot-gaps", "pale-rings"] },
  { finding: "hooked-ends", in: ["temporal"] },
  { finding: "pale-rings", at_least: "few" },
  { finding: "pale-rings", at_most: "single" },
  { absent: "tar-dots" },
  { not_assessed: ["knot-gaps", "salt-crust"] },
  { age_under: 34 },
  { age_from: 33 },
  { sex: ["female", "intersex"] },
  { phototype: ["V", "VI"] },
  { onset: "sudden" },
  { duration_weeks_from: 9 },
  { symptom: "itch", at_least: 3 },
  { symptom: "itch", at_most: 3 },
  { mentions: ["sailmaker"] },
  { mentions: ["thyroxin*", "levothyrox*"], in: ["medicines"] },
  { test: ["salt titre"], result: ["high"] },
  { test: ["titre"] },
  { examined: ["temporal"] },
  { patch_recorded: false },
  { sites_from: 2 },
  { measure: "hair-density", above: 140 },
  { impression: "family:non-scarring" },
  { arranged: ["biopsy"] },
  { plan_answers: ["scarring"] },
  { test: ["tar level"], value_below: 7.1 },
  { at_one_site: { all: [{ finding: "hooked-ends", at_least: "several" }, { finding: "pale-rings" }] } },
  { of: [{ age_under: 2 }, { sex: "female" }, { onset: "sudden" }], at_least: 2 },
];
const no: readonly Condition[] = [
  { plan_answers: ["salt"] },
  { arranged: ["fungal"] },
  { test: ["tar level"], value_below: 7 },
  { test: ["salt titre"], value_below: 99 },
  { finding: "hooked-ends", at_least: "many" },
  { finding: "hooked-ends", at_least: "several", in: ["left temporal"] },
  { finding: "tar-dots" },
  { absent: "knot-gaps" },
  { absent: "hooked-ends" },
  { not_assessed: "tar-dots" },
  { age_from: 34 },
  { course: "spreading" },
  { symptom: "pain", at_most: 0 },
  { mentions: ["braids"] },
  { mentions: ["biopsy"] },
  { mentions: ["levothyroxine"], in: ["past"] },
  { test: ["salt titre"], result: ["low"] },
  { pull_test: "negative" },
  { impression: "net-scar" },
  { band: "harbour-loss", at_least: "possible" },
  { rule: "some-rule", met: false },
  { measure: "hair-density", below: 140 },
  { at_one_site: { all: [{ absent: "tar-dots" }, { finding: "pale-rings" }] } },
];

describe("conditions", () => {
  it.each(yes.map((c) => [JSON.stringify(c), c] as const))("holds: %s", (_, c) => {
    expect(holds(c, facts)).toBe(true);
    expect(holds({ not: c }, facts)).toBe(false);
  });

  it.each(no.map((c) => [JSON.stringify(c), c] as const))("does not hold: %s", (_, c) => {
    expect(holds(c, facts)).toBe(false);
  });

  describe("at their limits", () => {
    const patient = { born: "1992-05-20", sex: "female", pregnancy: "pregnant" } as const;
    const rule = (id: string, met: boolean | null) => ({ id, term: id, met, says: "", source: "x" });
    const of = (change: Parameters<typeof visitWith>[0], rules: readonly ReturnType<typeof rule>[] = []) =>
      factsOf({ ...visit, ...visitWith(change) }, { ...measures, rules } as never, smallKnowledge());
    const plain = of({ patient });

    it.each<[Condition, boolean]>([
      [{ age_under: 33 }, false],
      [{ sex: "male" }, false],
      [{ phototype: ["IV"] }, false],
      [{ onset: ["gradual"] }, false],
      [{ duration_weeks_from: 10 }, false],
      [{ duration_weeks_under: 9 }, false],
      [{ duration_weeks_under: 10 }, true],
      [{ symptom: "itch", at_least: 4 }, false],
      [{ symptom: "itch", at_most: 2 }, false],
      [{ sites_from: 3 }, false],
      [{ patch_recorded: true }, false],
      [{ medicine_recorded: true }, true],
      [{ medicine_recorded: false }, false],
      [{ examined: ["nape"] }, false],
      [{ measure: "hair-density", above: 143 }, false],
      [{ measure: "hair-density", above: 142 }, true],
      [{ measure: "hair-density", below: 143 }, false],
      [{ measure: "hair-density", below: 144 }, true],
      [{ measure: "shaft-diameter", above: 1 }, false],
      [{ measure: "shaft-diameter", below: 999 }, false],
      [{ at_one_site: { all: [{ measure: "hair-density", above: 1 }, { finding: "pale-rings" }] } }, true],
      [{ at_one_site: { all: [{ measure: "hair-density", above: 1 }, { absent: "tar-dots" }] } }, false],
      [{ absent: ["tar-dots", "hooked-ends"] }, false],
      [{ absent: ["tar-dots", "knot-gaps"] }, false],
      [{ not_assessed: ["knot-gaps", "tar-dots"] }, false],
      [{ pregnancy: ["pregnant"] }, false],
      [{ course: ["stable"] }, false],
      [{ shedding: ["normal"] }, false],
    ])("%j: %s", (condition, expected) => {
      expect(holds(condition, facts)).toBe(expected);
    });

    it("a pregnancy holds when it is the one that was recorded", () => {
      expect(holds({ pregnancy: ["pregnant"] }, plain)).toBe(true);
      expect(holds({ pregnancy: ["breastfeeding"] }, plain)).toBe(false);
    });

    it("a pull test is positive when one of several is, negative when none is, and neither when none was done", () => {
      const pulled = (...met: (boolean | null)[]) =>
        of(
          { patient },
          met.map((m, i) => rule(`hair-pull-${i}`, m)),
        );
      const told = (known: ReturnType<typeof of>) =>
        (["positive", "negative"] as const).filter((pull_test) => holds({ pull_test }, known));
      expect(told(pulled(true, false))).toEqual(["positive"]);
      expect(told(pulled(false, false))).toEqual(["negative"]);
      expect(told(pulled(false, null))).toEqual(["negative"]);
      expect(told(pulled(null))).toEqual([]);
      expect(told(of({ patient }, [rule("other-rule", true)]))).toEqual([]);
    });

    it("a rule holds as it was met or not, never when it could not be judged", () => {
      const ruled = of({ patient }, [rule("thin-share", true), rule("coarse-share", null)]);
      expect(holds({ rule: "thin-share", met: true }, ruled)).toBe(true);
      expect(holds({ rule: "thin-share", met: false }, ruled)).toBe(false);
      expect(holds({ rule: "coarse-share", met: false }, ruled)).toBe(false);
      expect(holds({ rule: "coarse-share", met: true }, ruled)).toBe(false);
    });
  });

  it("judges bands once they are known", () => {
    const banded = withBands(facts, { "net-scar": "supported", "rope-wear": "not assessable" });
    expect(holds({ band: "family:scarring", at_least: "possible" }, banded)).toBe(true);
    expect(holds({ band: "net-scar", at_least: "supported" }, banded)).toBe(true);
    expect(holds({ band: "net-scar", at_least: "strongly supported" }, banded)).toBe(false);
    expect(holds({ band: "rope-wear", at_least: "possible" }, banded)).toBe(false);
  });

  it("knows no age from a birth date it cannot read", () => {
    const ageless = factsOf(visitWith({ patient: { born: "" } }), NO_MEASURES, smallKnowledge());
    expect(holds({ any: [{ age_under: 200 }, { age_from: 0 }] }, ageless)).toBe(false);
  });

  it("names the findings a condition asks for, not those it denies", () => {
    const named = findingsNamed({
      all: [{ finding: ["a", "b"] }, { not: { finding: "c" } }, { any: [{ finding: "d" }] }],
    });
    expect(named).toEqual(["a", "b", "d"]);
  });
});
