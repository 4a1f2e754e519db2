/** Conditions on medicines of the plan and of late, and a few shipped rules at the borders where they begin to speak. */
import { describe, expect, it } from "vitest";
import { holds } from "../../src/interpret/conditions.js";
import { factsOf } from "../../src/interpret/facts.js";
import { groundsOf } from "../../src/interpret/grounds.js";
import { agreementProblems, interpret } from "../../src/interpret/interpret.js";
import type { Condition } from "../../src/knowledge/condition.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { NO_MEASURES, type Shown, site, type VisitParts, visitWith } from "./visits.js";

const knowledge = loadKnowledge();
const facts = (parts: VisitParts) => factsOf(visitWith(parts), NO_MEASURES, knowledge);
const plan = (action: string) => ({ plan: [{ who: "clinic", action }] }) satisfies VisitParts;

describe("a medicine that is planned", () => {
  const planned: Condition = { planned: ["teratogenic-medicine"] };

  it("is named with the line of the plan that names it", () => {
    const start = facts(plan("Start acitretin 10 mg."));
    expect(holds(planned, start)).toBe(true);
    expect(groundsOf(planned, start)).toEqual([
      { kind: "medicine", says: "planned: Start acitretin 10 mg.", where: "plan[0]" },
    ]);
  });

  it.each([
    ["Start acitretin", true],
    ["Stop taking the acitretin", false],
    ["Stop taking all of the acitretin", true],
    ["Do not stop acitretin", true],
    ["No improvement, start acitretin", true],
    ["Acitretin is not wanted", true],
    ["Kein Acitretin", false],
    ["Start minoxidil", false],
  ])("%s: %s", (action, expected) => {
    expect(holds(planned, facts(plan(action)))).toBe(expected);
  });
});

describe("a class of medicines that is planned", () => {
  it.each([
    ["Begin a strong steroid", true],
    ["Topical corticosteroids for two weeks", true],
    ["No steroid until the culture is back", false],
    ["Anabolic advice", false],
  ])("%s: %s", (action, expected) => {
    expect(holds({ planned: ["steroid-medicine"] }, facts(plan(action)))).toBe(expected);
  });
});

describe("a medicine begun of late", () => {
  it("is one begun fewer weeks ago than that, where the weeks are recorded", () => {
    const begun: Condition = { begun: ["high-risk-reaction-medicine"], weeks_under: 9 };
    const since = (sinceWeeks?: number) =>
      facts({
        history: {
          medicines: [{ name: "carbamazepine", ...(sinceWeeks === undefined ? {} : { sinceWeeks }) }],
        },
      });
    expect([8, 9, undefined].map((weeks) => holds(begun, since(weeks)))).toEqual([true, false, false]);
  });
  it("is told by name; one of its class taken for long is not", () => {
    const medicines = [
      { name: "lamotrigine", sinceWeeks: 300 },
      { name: "carbamazepine", sinceWeeks: 5 },
    ];
    const begun: Condition = { begun: ["high-risk-reaction-medicine"], weeks_under: 9 };
    const says = groundsOf(begun, facts({ history: { medicines } })).map((g) => g.says);
    expect(says).toEqual(["carbamazepine (medicine with a risk of severe reaction)"]);
  });
});

describe("fine hairs at the margin", () => {
  const speaks = (broken: Shown) =>
    interpret(
      visitWith({ sites: [site("frontal hairline", { "vellus-hairs": "several", "broken-hairs": broken })] }),
      NO_MEASURES,
      knowledge,
    )
      .disorders.find((d) => d.id === "traction-alopecia")
      ?.for.some((r) => r.kind === "pattern" && r.id === "fringe-kept-at-the-margin");

  it("speak for traction beside broken hairs, and not beside a single one", () => {
    expect(speaks("few")).toBe(true);
    expect(speaks("single")).toBe(false);
  });
});

it("a medicine that no list holds is told as such, with the nearest name where one is near", () => {
  const medicines = ["acitretin", "none", "ninoxidil", "glimmerol"].map((name) => ({ name }));
  const visit = visitWith({ history: { ...visitWith({}).history, medicines } });
  const told = agreementProblems(visit, NO_MEASURES, interpret(visit, NO_MEASURES, knowledge), knowledge);
  const concluded = "is in no list of ours, so nothing was concluded from it.";
  expect(told.filter((p) => p.id === "medicine-not-listed")).toEqual([
    {
      severity: "note",
      id: "medicine-not-listed",
      path: "history.medicines[2]",
      message: `ninoxidil ${concluded} The nearest name is minoxidil.`,
    },
    {
      severity: "note",
      id: "medicine-not-listed",
      path: "history.medicines[3]",
      message: `glimmerol ${concluded}`,
    },
  ]);
});
