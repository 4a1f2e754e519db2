import { describe, expect, it } from "vitest";
import { agreementProblems, explainJson, interpret } from "../../src/interpret/interpret.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import type { Impression, Visit } from "../../src/visit/visit.js";
import { smallKnowledge } from "./small-knowledge.js";
import { NO_MEASURES, site, visitWith } from "./visits.js";

const small = smallKnowledge();
const read = (visit: Visit, knowledge: Knowledge = small) => interpret(visit, NO_MEASURES, knowledge);
const disorder = (i: ReturnType<typeof interpret>, id: string) => {
  const found = i.disorders.find((d) => d.id === id);
  if (!found) throw new Error(`no ${id}`);
  return found;
};
const weightOf = (i: ReturnType<typeof interpret>, id: string, reason: string) => {
  const d = disorder(i, id);
  return [...d.for, ...d.against].find((r) => r.id === reason)?.weight ?? 0;
};

describe("the ledger", () => {
  const i = read(visitWith({ sites: [site("vertex", { "hooked-ends": "several", "tar-dots": "few" })] }));

  it("adds up: base and every line give the score", () => {
    for (const d of i.disorders) {
      const sum = d.base + [...d.for, ...d.against].reduce((total, r) => total + r.weight, 0);
      // Lines under 0.03 are not listed.
      expect(Math.abs(sum - d.score)).toBeLessThan(0.1);
    }
  });

  it("lists every disorder weighed, best supported first", () => {
    expect(i.disorders.map((d) => d.id)).toEqual(["harbour-loss", "rope-wear", "net-scar"]);
    expect(i.disorders.reduce((sum, d) => sum + d.leads, 0)).toBeCloseTo(1, 6);
  });

  it("gives each finding's frequency with interval, basis and sources", () => {
    const reason = disorder(i, "harbour-loss").for.find((r) => r.id === "hooked-ends");
    expect(reason?.says).toBe("hooked ends, several");
    expect(reason?.site).toBe("vertex");
    expect(reason?.source).toBe("quay2021; rope2020");
    expect(reason?.frequency?.mean).toBeGreaterThan(0.7);
    expect(reason?.frequency?.basis).toMatch(/2 sources, 150 patients/u);
    expect(reason?.frequency?.low).toBeLessThan(reason?.frequency?.mean ?? 0);
  });

  it("says so where no study reports the finding", () => {
    const reason = [...disorder(i, "rope-wear").for, ...disorder(i, "rope-wear").against].find(
      (r) => r.id === "hooked-ends",
    );
    expect(reason?.frequency?.basis).toBe("no study; our default of 2 to 30\u00a0%");
    expect(reason?.source).toBe("common practice");
  });

  it("is the same for the same visit", () => {
    const again = read(
      visitWith({ sites: [site("vertex", { "tar-dots": "few", "hooked-ends": "several" })] }),
    );
    expect(again).toEqual(i);
  });
});

describe("present, absent, not assessed", () => {
  const with_ = (how: "several" | "none" | undefined) =>
    read(
      visitWith({ sites: [site("vertex", { "tar-dots": "few", ...(how ? { "hooked-ends": how } : {}) })] }),
    );

  it("moves one way, the other way, and not at all", () => {
    const [present, absent, open] = [with_("several"), with_("none"), with_(undefined)];
    const score = (i: ReturnType<typeof interpret>) =>
      disorder(i, "harbour-loss").score - disorder(i, "rope-wear").score;
    expect(score(present)).toBeGreaterThan(score(open));
    expect(score(absent)).toBeLessThan(score(open));
    expect(weightOf(open, "harbour-loss", "hooked-ends")).toBe(0);
    expect(open.notAssessed).toContain("hooked-ends");
  });

  it("takes a finding as absent only where it is present nowhere", () => {
    const i = read(
      visitWith({
        sites: [site("vertex", { "hooked-ends": "none" }), site("occipital", { "hooked-ends": "few" })],
      }),
    );
    const reason = disorder(i, "harbour-loss").for.find((r) => r.id === "hooked-ends");
    expect(reason?.state).toBe("present");
    expect(reason?.site).toBe("occipital");
  });

  it("says that nothing bore on a disorder instead of ranking it", () => {
    const i = read(visitWith({ history: { notes: "Net maker" } }));
    expect(new Set(i.disorders.map((d) => d.band))).toEqual(new Set(["not assessable"]));
  });
});

describe("amounts", () => {
  it("lets a single finding that proves little weigh little, and many weigh more than several", () => {
    const weights = (["single", "few", "several", "many", "throughout"] as const).map((amount) =>
      weightOf(
        read(visitWith({ sites: [site("vertex", { "hooked-ends": amount })] })),
        "harbour-loss",
        "hooked-ends",
      ),
    );
    expect(weights[0]).toBeLessThan((weights[2] ?? 0) * 0.3);
    expect(weights).toEqual([...weights].sort((x, y) => x - y));
  });
});

describe("subgroups", () => {
  const dots = (born: string) =>
    disorder(
      read(visitWith({ patient: { born }, sites: [site("vertex", { "tar-dots": "several" })] })),
      "harbour-loss",
    );
  const mean = (born: string) => {
    const d = dots(born);
    return [...d.for, ...d.against].find((r) => r.id === "tar-dots")?.frequency?.mean ?? Number.NaN;
  };

  it("reads a child by the rows on children and a grown person by those on adults", () => {
    expect(mean("2019-01-01")).toBeLessThan(0.12);
    expect(mean("1980-01-01")).toBeGreaterThan(0.8);
  });

  it("takes both as one study when the age is not known", () => {
    expect(mean("")).toBeGreaterThan(0.4);
    expect(mean("")).toBeLessThan(0.55);
  });
});

describe("context and tests", () => {
  const notes = (text: string) =>
    read(visitWith({ history: { notes: text }, sites: [site("vertex", { "tar-dots": "few" })] }));

  it("shifts by stated rules, a disorder's own value before its family's", () => {
    expect(weightOf(notes("Sailmaker, and net maker before"), "net-scar", "works-at-sea")).toBeCloseTo(
      4 * Math.tanh(3 / 4),
      3,
    );
    expect(weightOf(notes("Net maker"), "rope-wear", "works-at-sea")).toBeLessThan(0);
    expect(weightOf(notes("Not a net maker"), "net-scar", "works-at-sea")).toBe(0);
  });

  it("leaves tests outside the limit, so that they outrank what was seen", () => {
    const visit = visitWith({
      tests: [{ name: "Salt titre", result: "high" }],
      sites: [site("vertex", { "hooked-ends": "several", "tar-dots": "few" })],
    });
    const i = read(visit);
    expect(i.disorders[0]?.id).toBe("net-scar");
    expect(disorder(i, "net-scar").for[0]).toMatchObject({ kind: "test", id: "salt-titre-high", weight: 6 });
  });
});

describe("a second disorder", () => {
  it("is named when it explains what the first leaves over", () => {
    const i = read(
      visitWith({
        sites: [
          site("vertex", { "hooked-ends": "many", "tar-dots": "many" }),
          site("occipital", { "salt-crust": "many", "pale-rings": "seen" }),
        ],
        impression: [{ disorder: "harbour-loss", certainty: "probable" }],
      }),
    );
    expect(i.disorders[0]?.id).toBe("harbour-loss");
    expect(i.second).toMatchObject({ id: "net-scar", explains: expect.arrayContaining(["salt-crust"]) });
    expect(disorder(i, "net-scar").band).not.toBe("unlikely");
    expect(i.sites).toEqual([
      { site: "vertex", index: 0, leading: [{ id: "harbour-loss", band: "supported" }] },
      { site: "occipital", index: 1, leading: [{ id: "net-scar", band: "supported" }] },
    ]);
  });

  it("is told for each place with what else is near it there, at most as possible where nothing is ahead", () => {
    const bands = (findings: Record<string, string>) =>
      read(
        visitWith({
          sites: [site("nape", { "hooked-ends": "many" }), site("vertex", findings as never)],
        }),
      ).sites[1]?.leading.map(({ id, band }) => `${id} ${band}`);
    expect(bands({ "tar-dots": "few" })).toEqual([
      "harbour-loss possible",
      "net-scar possible",
      "rope-wear possible",
    ]);
    expect(bands({ "knot-gaps": "seen" })).toEqual(["rope-wear possible", "harbour-loss possible"]);
    expect(bands({ "hooked-ends": "few" })).toEqual(["harbour-loss possible"]);
  });

  it("is not named when one disorder explains all", () => {
    const i = read(visitWith({ sites: [site("vertex", { "hooked-ends": "many", "tar-dots": "many" })] }));
    expect(i.second).toBeUndefined();
  });
});

describe("scarring", () => {
  it("is never called unlikely while a scarring sign stands", () => {
    const i = read(
      visitWith({
        sites: [site("vertex", { "hooked-ends": "many", "tar-dots": "many", "salt-crust": "single" })],
      }),
    );
    expect(i.disorders[0]?.id).toBe("harbour-loss");
    expect(disorder(i, "net-scar").band).toBe("possible");
  });
});

describe("what to look at next", () => {
  const seen = { sites: [site("vertex", { "tar-dots": "few" })] };
  const i = read(visitWith({ ...seen, history: { durationWeeks: 8 } }));

  it("offers no test for what a healthy scalp may show, nobody complaining", () => {
    const quiet = read(visitWith(seen));
    expect(quiet.healthy.comparable).toBe(true);
    expect(quiet.lookNext.filter((l) => l.kind === "test")).toEqual([]);
  });

  it("offers unassessed findings and tests, most informative first, at most five", () => {
    expect(i.lookNext.length).toBeGreaterThan(1);
    expect(i.lookNext.length).toBeLessThanOrEqual(5);
    expect(i.lookNext.map((l) => l.lookFor)).not.toContain("tar-dots");
    const bits = i.lookNext.map((l) => l.bits);
    expect(bits).toEqual([...bits].sort((x, y) => y - x));
    expect(i.lookNext.find((l) => l.lookFor === "hooked-ends")?.says).toMatch(
      /^hooked ends would separate harbour loss from /u,
    );
    expect(i.lookNext.some((l) => l.kind === "test" && l.lookFor === "salt titre")).toBe(true);
  });
});

describe("activity", () => {
  const visit = (hooks: "few" | "none", rings: "few" | "none", date = "2026-05-19") =>
    visitWith({
      date,
      sites: [site("vertex", { "hooked-ends": hooks, "pale-rings": rings, "tar-dots": "many" })],
      impression: [{ disorder: "harbour-loss", certainty: "probable" }],
    });
  const stateOf = (v: Visit, previous?: Visit) =>
    interpret(v, NO_MEASURES, small, previous ? { previous } : {}).activity.find(
      (a) => a.disorder === "harbour-loss",
    );

  it("says both when markers conflict", () => {
    expect(stateOf(visit("few", "none"))?.state).toBe("active");
    expect(stateOf(visit("few", "few"))).toMatchObject({
      state: "mixed",
      markers: ["hooked-ends", "pale-rings"],
      says: ["Hooks mean loss now.", "Rings mean regrowth."],
    });
    expect(stateOf(visit("none", "none"))?.state).toBe("not assessable");
  });

  it("reads recovery from markers that went since an earlier visit", () => {
    const after = stateOf(visit("none", "none", "2026-08-18"), visit("few", "none"));
    expect(after?.state).toBe("recovering");
    expect(after?.says.join(" ")).toContain("fewer than on 2026-05-19");
  });
});

describe("agreement and cautions", () => {
  const hooks = [site("vertex", { "hooked-ends": "many", "tar-dots": "many" })];
  const salt = [site("vertex", { "salt-crust": "many", "pale-rings": "many" })];
  const verdict = (v: Visit) => read(v).agreement.verdict;

  it("compares the impression with the bands", () => {
    expect(verdict(visitWith({ sites: hooks }))).toBe("no-impression");
    expect(
      verdict(visitWith({ sites: hooks, impression: [{ disorder: "harbour-loss", certainty: "probable" }] })),
    ).toBe("agrees");
    expect(
      verdict(visitWith({ sites: hooks, impression: [{ disorder: "net-scar", certainty: "definite" }] })),
    ).toBe("disagrees");
    expect(
      verdict(visitWith({ sites: hooks, impression: [{ disorder: "harbour-loss", certainty: "excluded" }] })),
    ).toBe("disagrees");
  });

  it("tells why, in words with a band", () => {
    const { why } = read(
      visitWith({ sites: hooks, impression: [{ disorder: "net-scar", certainty: "probable" }] }),
    ).agreement;
    expect(why).toMatch(/^Net scar is unlikely; the findings favour harbour loss \(/u);
    expect(why).toContain("hooked ends, many");
  });

  const problems = (v: Visit) =>
    agreementProblems(v, NO_MEASURES, read(v), small).map((p) => [p.severity, p.id]);

  it("warns of an open must-not-miss until a plan line names it or a test has a result", () => {
    const open = visitWith({ sites: salt });
    expect(read(open).mustNotMiss).toEqual([
      {
        id: "scarring",
        caution: "take-tissue",
        why: "Salt crust may mean scarring.",
        urgency: "soon",
        who: "the receiving doctor",
        raisedBy: [
          { kind: "finding", says: "salt crust", where: "vertex" },
          { kind: "band", says: "scarring is supported or more" },
        ],
        closedBy: null,
        answeredByPlan: false,
      },
    ]);
    expect(problems(open)).toEqual([["warning", "must-not-miss-open"]]);
    const words = visitWith({ sites: salt, plan: [{ who: "clinic", action: "Biopsy of the margin" }] });
    expect(problems(words)).toEqual([["warning", "must-not-miss-open"]]);
    const [line] = words.plan;
    const named = { ...words, plan: [{ ...line, who: "clinic", action: "Biopsy", answers: ["scarring"] }] };
    expect(problems(named)).toEqual([]);
    const tested = (result: string) => visitWith({ sites: salt, tests: [{ name: "biopsy", result }] });
    expect(problems(tested("awaited"))).toEqual([["warning", "must-not-miss-open"]]);
    expect(problems(tested("scar tissue"))).toEqual([]);
  });

  it("warns of a plan against a caution", () => {
    const plan = [{ who: "clinic", action: "Start tarring; biopsy later", answers: ["scarring"] }];
    expect(problems(visitWith({ sites: salt, plan }))).toEqual([["warning", "plan-contradicts-caution"]]);
  });

  it("warns of a disagreement and of a definite impression on nothing", () => {
    const wrong = visitWith({ sites: hooks, impression: [{ disorder: "rope-wear", certainty: "definite" }] });
    expect(problems(wrong)).toEqual([["warning", "impression-disagrees"]]);
    const bare = visitWith({ impression: [{ disorder: "rope-wear", certainty: "definite" }] });
    expect(problems(bare)).toEqual([["warning", "thin-evidence"]]);
  });

  it("turns an accepted message into a note with the reason given", () => {
    const accept = [{ id: "must-not-miss-open:scarring", reason: "Biopsied in March" }];
    const v = visitWith({ sites: salt, accept });
    const [problem] = agreementProblems(v, NO_MEASURES, read(v), small);
    expect(problem).toMatchObject({ severity: "note", id: "must-not-miss-open" });
    expect(problem?.message).toContain("(accepted: Biopsied in March)");
  });

  it("names each line that an acceptance without a name lets pass", () => {
    const all = { id: "must-not-miss-open", reason: "Seen." };
    const one = { id: "must-not-miss-open:scarring", reason: "Biopsied in March" };
    const of = (accept: Visit["accept"]) => {
      const v = visitWith({ sites: salt, accept });
      return agreementProblems(v, NO_MEASURES, read(v), small).map((p) => [
        p.severity,
        p.id,
        p.path,
        p.message,
      ]);
    };
    const [open, told] = of([all]);
    expect(open?.slice(0, 2)).toEqual(["note", "must-not-miss-open"]);
    expect(told).toEqual([
      "warning",
      "accepts-all-lines",
      "accept[0]",
      "must-not-miss-open without a name accepts this line: scarring (soon). Write must-not-miss-open:scarring in its place, each with its reason.",
    ]);
    // The reason of the named one counts, wherever it stands, and nothing is let pass besides.
    expect(of([all, one])).toHaveLength(1);
    expect(of([all, one])[0]?.[3]).toContain("(accepted: Biopsied in March)");
    expect(of([one])).toHaveLength(1);
  });

  it("applies cautions by condition, by band and by impression, unless it is excluded", () => {
    const asExcluded = (i: Impression): Impression => ({ ...i, certainty: "excluded" });
    expect(read(visitWith({ sites: hooks })).cautions).toEqual([]);
    const byImpression = visitWith({
      sites: hooks,
      impression: [{ disorder: "net-scar", certainty: "possible" }],
    });
    expect(read(byImpression).cautions.map((c) => c.id)).toEqual(["take-tissue"]);
    const excluded = { ...byImpression, impression: byImpression.impression.map(asExcluded) };
    expect(read(excluded).cautions).toEqual([]);
  });

  it("adds the pitfalls of what it speaks of", () => {
    expect(read(visitWith({ sites: hooks })).notes).toEqual([
      { says: "Tar dots hide in fair hair.", source: "quay2021", finding: "tar-dots" },
    ]);
  });
});

describe("the printed object", () => {
  it("has the fixed keys, snake_case throughout", () => {
    const visit = visitWith({ sites: [site("vertex", { "hooked-ends": "several", "salt-crust": "few" })] });
    const json = explainJson(read(visit), NO_MEASURES);
    for (const key of [
      "visit",
      "disorders",
      "second",
      "activity",
      "must_not_miss",
      "look_next",
      "agreement",
      "not_assessed",
      "measures",
    ]) {
      expect(json).toHaveProperty(key);
    }
    expect(JSON.stringify(json)).not.toMatch(/"[a-z]+[A-Z][a-zA-Z]*":/u);
    expect(json).toMatchObject({
      must_not_miss: [{ id: "scarring", answered_by_plan: false }],
      agreement: { verdict: "no-impression", recorded: [] },
    });
    const [first] = json.disorders as { for: Record<string, unknown>[] }[];
    expect(Object.keys(first?.for[0] ?? {})).toEqual(
      expect.arrayContaining(["finding", "site", "weight", "source"]),
    );
  });
});
