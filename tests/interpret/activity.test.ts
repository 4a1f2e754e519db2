import { describe, expect, it } from "vitest";
import { activityOf } from "../../src/interpret/activity.js";
import { factsOf } from "../../src/interpret/facts.js";
import type { Disorder } from "../../src/knowledge/schema.js";
import { smallKnowledge } from "./small-knowledge.js";
import { NO_MEASURES, type Shown, site, visitWith } from "./visits.js";

const small = smallKnowledge();
type State = Disorder["activity"][number]["state"];

function marker(state: State, finding: string): Disorder["activity"][number] {
  return { state, when: { finding }, says: `${finding} says ${state}.`, source: `of-${finding}` };
}

function harbour(activity: Disorder["activity"], stages: Disorder["stages"] = []): Disorder {
  const disorder = small.disorders["harbour-loss"];
  if (!disorder) throw new Error("no harbour loss");
  return { ...disorder, activity, stages };
}

const facts = (findings: Record<string, Shown>, date = "2026-05-19", more: Record<string, Shown> = {}) =>
  factsOf(
    visitWith({ date, sites: [site("vertex", findings), site("occipital", more)] }),
    NO_MEASURES,
    small,
  );
const all = { "hooked-ends": "few", "tar-dots": "few", "pale-rings": "few" } as const;

it("names as markers only what is present, each once", () => {
  const when = { any: [{ finding: "hooked-ends" }, { finding: ["tar-dots", "knot-gaps"] }] };
  const either = { ...marker("active", "hooked-ends"), when };
  const view = (findings: Record<string, Shown>) =>
    activityOf(harbour([either, marker("active", "hooked-ends")]), facts(findings)).markers;
  expect(view({ "hooked-ends": "few", "tar-dots": "none" })).toEqual(["hooked-ends"]);
  expect(view({ "hooked-ends": "none", "knot-gaps": "few" })).toEqual(["knot-gaps"]);
});

describe("the state", () => {
  const of = (...states: State[]) => {
    const ids = ["hooked-ends", "tar-dots", "pale-rings"];
    return activityOf(harbour(states.map((s, i) => marker(s, ids[i] ?? ""))), facts(all)).state;
  };

  it("is what every marker says", () => {
    expect(of()).toBe("not assessable");
    for (const state of ["active", "stable", "long-standing", "recovering"] as const) {
      expect(of(state), state).toBe(state);
      expect(of(state, state), state).toBe(state);
    }
  });

  it("is long-standing where stable stands beside it, and mixed where other two meet", () => {
    expect(of("stable", "long-standing")).toBe("long-standing");
    expect(of("long-standing", "stable")).toBe("long-standing");
    expect(of("stable", "active")).toBe("mixed");
    expect(of("long-standing", "recovering")).toBe("mixed");
    expect(of("stable", "long-standing", "active")).toBe("mixed");
  });
});

it("names markers, sentences and sources once, with the stage", () => {
  const active = [marker("active", "hooked-ends"), { ...marker("active", "hooked-ends"), says: "More." }];
  const stages = [
    { stage: "late", when: { finding: "salt-crust" }, says: "Late.", source: "of-late" },
    { stage: "early", when: { finding: "tar-dots" }, says: "Early.", source: "of-early" },
    { stage: "never", when: { finding: "tar-dots" }, says: "Never.", source: "of-never" },
  ];
  expect(activityOf(harbour(active, stages), facts(all))).toEqual({
    disorder: "harbour-loss",
    state: "active",
    stage: "early",
    markers: ["hooked-ends"],
    says: ["hooked-ends says active.", "More.", "Early."],
    source: "of-hooked-ends; of-early",
  });
  expect(activityOf(harbour([]), facts({ "tar-dots": "none" }))).toEqual({
    disorder: "harbour-loss",
    state: "not assessable",
    markers: [],
    says: [],
    source: "",
  });
});

describe("with an earlier visit", () => {
  const disorder = harbour([
    {
      ...marker("active", "hooked-ends"),
      when: { finding: ["hooked-ends", "tar-dots"], at_least: "throughout" },
    },
    marker("recovering", "salt-crust"),
  ]);
  const since = (
    then: Record<string, Shown>,
    now: Record<string, Shown>,
    elsewhere: Record<string, Shown> = {},
  ) => activityOf(disorder, facts(now), facts(then, "2026-02-03", elsewhere));

  it("more of a marker means active, fewer recovering", () => {
    expect(since({ "hooked-ends": "few" }, { "hooked-ends": "several" })).toEqual({
      disorder: "harbour-loss",
      state: "active",
      markers: ["hooked-ends"],
      says: ["hooked ends: more than on 2026-02-03."],
      source: "common practice",
    });
    expect(
      since({ "hooked-ends": "few", "tar-dots": "many" }, { "hooked-ends": "none", "tar-dots": "few" }),
    ).toMatchObject({
      state: "recovering",
      markers: ["hooked-ends", "tar-dots"],
      says: ["hooked ends and tar dots: fewer than on 2026-02-03."],
    });
  });

  it("one that rises outweighs one that falls", () => {
    expect(
      since({ "hooked-ends": "few", "tar-dots": "many" }, { "hooked-ends": "many", "tar-dots": "few" }),
    ).toMatchObject({
      state: "active",
      says: ["hooked ends: more than on 2026-02-03."],
    });
  });

  it("what did not move, was not assessed at both, or marks no activity says nothing", () => {
    expect(since({ "hooked-ends": "few" }, { "hooked-ends": "few" }).state).toBe("not assessable");
    expect(since({ "hooked-ends": "few" }, {}).state).toBe("not assessable");
    expect(since({}, { "hooked-ends": "few" }).state).toBe("not assessable");
    expect(since({ "salt-crust": "many" }, { "salt-crust": "none" }).state).toBe("not assessable");
    expect(since({ "hooked-ends": "none" }, { "hooked-ends": "none" }).state).toBe("not assessable");
  });

  it("counts the largest amount of any site", () => {
    expect(
      since({ "hooked-ends": "few" }, { "hooked-ends": "several" }, { "hooked-ends": "several" }).state,
    ).toBe("not assessable");
    expect(
      since({ "hooked-ends": "none" }, { "hooked-ends": "none" }, { "hooked-ends": "single" }).state,
    ).toBe("recovering");
  });
});

it("counts as moved only what was seen more or less than before", () => {
  const disorder = harbour([marker("active", "hooked-ends"), marker("active", "tar-dots")]);
  const before = facts({ "hooked-ends": "few", "tar-dots": "few" }, "2026-03-01");
  const moved = (now: Record<string, Shown>) => activityOf(disorder, facts(now), before).says;
  const still = moved({ "hooked-ends": "few", "tar-dots": "few" });
  expect(moved({ "hooked-ends": "many", "tar-dots": "few" })).not.toEqual(still);
  expect(still.join()).not.toMatch(/more|fewer|less|rose|fell/iu);
});
