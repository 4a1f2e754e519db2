/** Handouts of all disorders in all circumstances, read for sentences that contradict each other, an open line, or the visit. */
import { describe, expect, it } from "vitest";
import { MEANINGS, type Meaning, meaningRule, type Sentence, wordsOf } from "../../src/knowledge/sentence.js";
import type { FactsInput } from "../../src/letter/facts-input.js";
import { handoutFacts } from "../../src/letter/handout-facts.js";
import { loadPack } from "../../src/letter/pack.js";
import { handoutChooser } from "../../src/letter/sentences.js";
import type { Certainty, Visit } from "../../src/visit/visit.js";
import { runs, some } from "../runs.js";
import { clinic, compose, type Example, exampleOf, knowledge, wordsIn } from "./compose.js";

const base = exampleOf("TS-2026-0141");
const { pack } = loadPack("en-GB");
const all = Object.values(knowledge.disorders);

/** Every patient sentence with its meanings, as printed. */
const tagged = all.flatMap((d) => {
  const { is, means, next, ask } = d.patient;
  return [...is, ...means, ...next, ...ask].flatMap((s: Sentence) =>
    typeof s === "string" ? [] : [{ words: wordsOf(s), tells: s.tells }],
  );
});

type Line = Example["interpretation"]["mustNotMiss"][number];
const line = (id: string, closedBy: Line["closedBy"] = null): Line => ({
  id,
  caution: id,
  why: "why",
  urgency: "days",
  who: "the doctor",
  raisedBy: [],
  closedBy,
  answeredByPlan: closedBy !== null,
});

function handout(
  disorders: readonly string[],
  parts: Partial<Visit> = {},
  mustNotMiss: readonly Line[] = [],
): string {
  const certainty: Certainty = "probable";
  const visit: Visit = {
    ...base.visit,
    tests: [],
    plan: [],
    impression: disorders.map((disorder) => ({ disorder, certainty })),
    ...parts,
  };
  const { change: _none, ...first } = base;
  const example: Omit<Example, "name"> = {
    ...first,
    visit,
    interpretation: { ...base.interpretation, cautions: [], mustNotMiss },
  };
  return wordsIn(compose("handout", example, { language: "en-GB" }).html);
}

function inputOf(
  visit: Visit,
  mustNotMiss: readonly Line[],
  change: FactsInput["change"] = null,
): FactsInput {
  if (!pack) throw new Error("en-GB");
  return {
    visit,
    clinic,
    knowledge,
    measures: base.measures,
    interpretation: { ...base.interpretation, cautions: [], mustNotMiss },
    words: pack.words,
    recipient: null,
    change,
    replaces: undefined,
    drawings: {},
    large: false,
    forClinician: false,
    photos: [],
    hasLogo: false,
  };
}

/** What the handout tells of the disorders, without setting the page: quick enough for every pair and line. */
function told(disorders: readonly string[], mustNotMiss: readonly Line[] = [], isLater = false): string {
  const visit: Visit = {
    ...base.visit,
    tests: [],
    plan: [],
    impression: disorders.map((disorder) => ({ disorder, certainty: "probable" })),
  };
  const facts = handoutFactsOf(
    inputOf(visit, mustNotMiss, isLater ? (exampleOf("TS-2026-0388").change ?? null) : null),
  );
  return [
    ...facts.named.flatMap((n) => [...n.is, ...n.means, ...n.next]),
    ...facts.help.flatMap((h) => h.signs),
    ...facts.questions,
  ].join(" ");
}

const handoutFactsOf = (input: FactsInput) => handoutFacts(input, [], handoutChooser(input), []);

const saidIn = (text: string) => tagged.filter((s) => text.includes(s.words));
const meaningsIn = (text: string) => new Set(saidIn(text).flatMap((s) => s.tells));

/** Pairs of meanings that stand together although one excludes the other. */
function clashes(text: string): string[] {
  const said = meaningsIn(text);
  return [...said].flatMap((meaning) =>
    (meaningRule(meaning).notBeside ?? []).flatMap((other) =>
      said.has(other as Meaning) ? [`${meaning} / ${other}`] : [],
    ),
  );
}

describe("a handout", () => {
  // Each disorder first and second beside others spread over the list; every pair with `WHORL_RUNS=1`.
  it("never says what contradicts the other name, for pairs of disorders", () => {
    const step = Math.round(all.length / runs(all.length));
    for (const [i, a] of all.entries())
      for (const [j, b] of all.entries())
        if (a.id !== b.id && (i + j) % step === 0)
          expect(clashes(told([a.id, b.id])), `${a.id} + ${b.id}`).toEqual([]);
  });

  it("never says what an open line contradicts, for every disorder and line, at a first and a later visit", () => {
    const lines = [...new Set(Object.values(MEANINGS).flatMap((m) => meaningRuleOf(m).notWhileOpen ?? []))];
    for (const d of all)
      for (const isLater of [false, true]) {
        // The lines that forbid something said while none is open, and some of the others.
        const free = [...meaningsIn(told([d.id], [], isLater))].flatMap(
          (m) => meaningRule(m).notWhileOpen ?? [],
        );
        for (const id of new Set([...free, ...some(lines)])) {
          const said = meaningsIn(told([d.id], [line(id)], isLater));
          const wrong = [...said].filter((m) => meaningRule(m).notWhileOpen?.includes(id));
          expect(wrong, `${d.id} while ${id} is open`).toEqual([]);
        }
      }
  });

  it("says them again once a test or an answer has closed the line, not once a plan has", () => {
    const contagion = "It cannot be passed on to others.";
    const closing = (kind: "test" | "answer" | "plan" | "declined") =>
      handout(["alopecia-areata"], {}, [line("syphilis", { kind, says: "" })]);
    expect(handout(["alopecia-areata"])).toContain(contagion);
    expect(handout(["alopecia-areata"], {}, [line("syphilis")])).not.toContain(contagion);
    for (const kind of ["test", "answer"] as const) expect(closing(kind)).toContain(contagion);
    for (const kind of ["plan", "declined"] as const) expect(closing(kind)).not.toContain(contagion);
  });

  it("reassures nobody of a healthy scalp while any line is open", () => {
    const nothing = "we saw nothing unusual";
    expect(handout(["nothing-abnormal-found"])).toContain(nothing);
    expect(handout(["nothing-abnormal-found"], {}, [line("arteritis")])).not.toContain(nothing);
  });

  it("mentions a woman's cycle to no man", () => {
    const of = (sex: Visit["patient"]["sex"]) =>
      handout(["androgenetic-alopecia"], { patient: { ...base.visit.patient, sex } });
    expect(of("male")).not.toMatch(/periods/u);
    expect(of("female")).toContain("Periods change");
  });

  it("asks for no blood test, biopsy or sample that was taken", () => {
    const tested = (disorder: string, name: string) =>
      handout([disorder], { tests: [{ name, result: "normal" }] });
    expect(handout(["telogen-effluvium"])).toContain("Blood tests may be offered");
    expect(tested("telogen-effluvium", "ferritin")).not.toMatch(
      /Blood tests may be offered|Are blood tests needed/u,
    );
    expect(handout(["lichen-planopilaris"])).toContain("A biopsy may be offered");
    expect(tested("lichen-planopilaris", "scalp biopsy")).not.toMatch(
      /biopsy may be offered|Would a biopsy/u,
    );
    expect(handout(["tinea-capitis"])).toContain("We send a little scale and hair to a lab");
    expect(tested("tinea-capitis", "fungal culture")).not.toContain("We send a little scale");
  });

  it("speaks of a treatment as the cause only where no poison is told of", () => {
    const of = (exposures: readonly string[]) =>
      handout(["anagen-effluvium"], { history: { ...base.visit.history, exposures } });
    expect(of([])).toContain("Some treatments act on cells that grow fast.");
    expect(of([])).toContain("Which treatment could have done this?");
    expect(of(["poison"])).toContain("Some substances act on cells that grow fast.");
    expect(of(["poison"])).not.toMatch(/treatments? (?:act|could|team)/u);
  });

  it("speaks of hair in the brush only while hair is shed", () => {
    const history = base.visit.history;
    const shed = (parts: Partial<Visit["history"]>) =>
      handout(["telogen-effluvium"], { history: { ...history, course: "spreading", ...parts } });
    expect(shed({ shedding: "increased" })).toContain("a lot of hair in the brush");
    expect(shed({ shedding: "normal" })).not.toContain("in the brush");
    expect(shed({ shedding: "increased", course: "improving" })).not.toContain("in the brush");
  });

  const unplanned = (disorder: string) => {
    const { followUp: _planned, ...visit } = base.visit;
    const impression: Visit["impression"] = [{ disorder, certainty: "probable" }];
    return wordsIn(compose("handout", { ...base, visit: { ...visit, impression } }).html);
  };

  it("promises no comparison at a next visit that is not planned", () => {
    const planned = "We will compare the same places at the next visit.";
    expect(handout(["alopecia-areata"], { followUp: { weeks: 8 } })).toContain(planned);
    expect(unplanned("alopecia-areata")).not.toContain(planned);
  });

  it("speaks of no further visits only where none is planned", () => {
    const words = "You may not need more visits if it stays the same.";
    expect(unplanned("temporal-triangular-alopecia")).toContain(words);
    expect(handout(["temporal-triangular-alopecia"], { followUp: { weeks: 8 } })).not.toContain(words);
  });

  it("says that nothing is known of a spot only until its sample has a result", () => {
    const sampled = (result: string) => [{ name: "scalp biopsy", result, date: base.visit.date }];
    const unknown = "We do not know yet what it is.";
    const of = (tests: Visit["tests"]) => handout(["skin-cancer-of-the-scalp"], { tests });
    expect(of([])).toContain(unknown);
    expect(of(sampled("awaited"))).toContain(unknown);
    expect(of(sampled("awaited"))).not.toContain("You will get a visit with a skin doctor.");
    expect(of(sampled("basal cell carcinoma"))).not.toContain(unknown);
  });

  it("says once that it can be hard, however many names it tells", () => {
    const text = handout(["alopecia-areata", "androgenetic-alopecia"]);
    expect(saidIn(text).filter((s) => s.tells.includes("it can be hard"))).toHaveLength(1);
  });

  it("announces a talk where nothing is named yet, and none where a name is kept back or was told", () => {
    const kept = {
      impression: [{ disorder: "alopecia-areata", certainty: "probable", inHandout: false }],
    } as const;
    expect(handout([], { impression: [] })).toContain("Your clinician will talk with you");
    expect(handout([], kept)).not.toContain("will talk with you");
    expect(handout([], kept)).toContain("You can ask us about it at any time.");
    expect(handout([], { ...kept, told: "That it may be alopecia areata." })).not.toContain(
      "will talk with you",
    );
  });
});

describe("what cannot wait", () => {
  const sheet = (parts: Partial<Line>) => {
    const [caution] = Object.values(knowledge.cautions).filter((c) => c.must_not_miss?.id === "zoster");
    if (!caution?.patient) throw new Error("no caution");
    const example = {
      ...base,
      interpretation: {
        ...base.interpretation,
        cautions: [{ id: caution.id, patient: caution.patient, source: caution.source }],
        mustNotMiss: [{ ...line("zoster"), caution: caution.id, ...parts }],
      },
    };
    const text = wordsIn(compose("handout", example, { language: "en-GB" }).html);
    return {
      isFirst: text.includes("Please read this first"),
      times: text.split(caution.patient).length - 1,
    };
  };

  it("stands first on the sheet, once, and with the rest when it is less urgent or settled", () => {
    expect(sheet({ urgency: "same day" })).toEqual({ isFirst: true, times: 1 });
    expect(sheet({ urgency: "now" })).toEqual({ isFirst: true, times: 1 });
    expect(sheet({ urgency: "days" })).toEqual({ isFirst: false, times: 1 });
    expect(sheet({ urgency: "now", closedBy: { kind: "test", says: "" } })).toEqual({
      isFirst: false,
      times: 1,
    });
    expect(sheet({ urgency: "now", closedBy: { kind: "plan", says: "" } })).toEqual({
      isFirst: true,
      times: 1,
    });
  });
});

function meaningRuleOf(rule: object): { notWhileOpen?: readonly string[] } {
  return rule;
}

describe("the meanings of the knowledge", () => {
  it("are given to every sentence that speaks of passing it on", () => {
    const speaks = /pass (?:it|them) on|not catching|be caught|can catch|spread to other/iu;
    const untagged = all.flatMap((d) => {
      const { is, means, next } = d.patient;
      return [...is, ...means, ...next].filter(
        (s) => speaks.test(wordsOf(s)) && (typeof s === "string" || s.tells.length === 0),
      );
    });
    expect(untagged.map(wordsOf)).toEqual([]);
  });

  it.each<[string, RegExp, readonly Meaning[]]>([
    [
      "regrowth",
      /\b(?:hair|patches?)\b.*\b(?:grows?|comes?) (?:again|back)|\brecover\b|mostly grows again/iu,
      ["hair can return", "hair does not return", "roots are alive"],
    ],
    [
      "living roots",
      /roots (?:are|rest)\b.*(?:still|fine|healthy|alive)|roots are healthy/iu,
      ["roots are alive", "hair can return"],
    ],
    [
      "harmlessness",
      /(?:It is|patches are) harmless|nothing unusual|not an illness|no treatment for what/iu,
      ["nothing is wrong"],
    ],
    ["cancer", /not cancer/iu, ["it is not cancer"]],
  ])("are given to every sentence that speaks of %s", (_, speaks, meanings) => {
    // What is said of one case alone promises nothing.
    const ofOneCase = /^(?:If|Where|Photos show if|New patches)\b/u;
    const untagged = all.flatMap((d) => {
      const { is, means, next } = d.patient;
      return [...is, ...means, ...next].filter(
        (s) =>
          speaks.test(wordsOf(s)) &&
          !ofOneCase.test(wordsOf(s)) &&
          (typeof s === "string" || !s.tells.some((t) => meanings.includes(t))),
      );
    });
    expect(untagged.map(wordsOf)).toEqual([]);
  });

  it("leave no sentence of a sample, a test or our own next look without its circumstances", () => {
    const speaks =
      /\bbiopsy\b|\bsample|\bswab|microscope|patch test|blood test|gene test|hearing test|\bWe (?:will|can|may) (?:compare|count|look)|We take photos/iu;
    const bare = all.flatMap((d) => {
      const { is, means, next, ask } = d.patient;
      return [...is, ...means, ...next, ...ask].filter(
        (s) => speaks.test(wordsOf(s)) && (typeof s === "string" || (!s.when && !s.on)),
      );
    });
    expect(bare.map(wordsOf)).toEqual([]);
  });

  it("name lines that exist", () => {
    const ids = new Set(Object.values(knowledge.cautions).flatMap((c) => c.must_not_miss?.id ?? []));
    const named = Object.values(MEANINGS).flatMap((m) => meaningRuleOf(m).notWhileOpen ?? []);
    expect(named.filter((id) => !ids.has(id))).toEqual([]);
  });
});

describe("a condition on an open line", () => {
  it("holds for sentences as it does for cautions", () => {
    const mayTell = (mustNotMiss: readonly Line[]) =>
      handoutChooser(inputOf(base.visit, mustNotMiss)).mayTell({
        tells: [],
        when: { line_open: ["zoster"] },
      });
    expect(mayTell([line("zoster")])).toBe(true);
    expect(mayTell([line("scarring")])).toBe(false);
    expect(mayTell([line("zoster", { kind: "test", says: "swab negative" })])).toBe(false);
  });
});
