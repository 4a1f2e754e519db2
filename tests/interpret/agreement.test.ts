import { describe, expect, it } from "vitest";
import { agreementOf, type Beside } from "../../src/interpret/agreement.js";
import type { DisorderView, MustNotMiss } from "../../src/interpret/interpretation.js";
import type { Impression } from "../../src/visit/visit.js";
import { knowledgeWith, reason, view } from "./parts.js";
import { visitWith } from "./visits.js";

const small = knowledgeWith({
  lines: [
    { ids: ["scarring"], fits: ["family:scarring"] },
    { ids: ["lice"], fits: ["rope-wear"] },
  ],
});
const healthyDisorder = {
  ...small.disorders["rope-wear"],
  id: "sound-scalp",
  family: "healthy",
  term: "sound scalp",
};
const knowledge = {
  ...small,
  disorders: { ...small.disorders, "sound-scalp": healthyDisorder as (typeof small.disorders)[string] },
};
const carried = { for: [reason(2, { says: "Hooked ends, many" })] };
const beside: Beside = {
  second: undefined,
  healthy: { comparable: false, why: "The findings speak for harbour loss more than for a healthy scalp." },
  assessedShare: 0.12,
  recorded: 3,
  open: [],
};

function open(id: string, answeredByPlan = false): MustNotMiss {
  return {
    id,
    caution: id,
    why: "",
    urgency: "soon",
    who: "the receiving doctor",
    raisedBy: [],
    closedBy: null,
    answeredByPlan,
  };
}

function agreement(
  impression: readonly Impression[],
  disorders: readonly DisorderView[],
  change: Partial<Beside> = {},
) {
  return agreementOf(visitWith({ impression }), disorders, { ...beside, ...change }, knowledge);
}
const harbour = (certainty: Impression["certainty"] = "probable"): Impression[] => [
  { disorder: "harbour-loss", certainty },
];
const supported = [
  view("harbour-loss", "supported", carried),
  view("net-scar", "unlikely"),
  view("rope-wear", "unlikely"),
];

describe("the evidence agrees", () => {
  it("with a supported band carried by a finding", () => {
    expect(agreement(harbour(), supported)).toEqual({
      recorded: ["harbour-loss"],
      verdict: "agrees",
      why: "Harbour loss is supported.",
    });
  });

  it("only when enough of what bears on it was looked for", () => {
    expect(agreement(harbour(), supported, { assessedShare: 0.119 })).toMatchObject({
      verdict: "too-little",
      why: "Harbour loss is supported; too few of the findings that bear on it were looked for.",
    });
  });

  it("only when a finding, an examined sign or a test speaks for it", () => {
    const by = (r: ReturnType<typeof reason>) =>
      agreement(harbour(), [view("harbour-loss", "supported", { for: [r] })]).verdict;
    expect(by(reason(1, { kind: "test" }))).toBe("agrees");
    expect(by(reason(1, { kind: "fact", examined: true }))).toBe("agrees");
    expect(by(reason(1, { kind: "fact", examined: false }))).toBe("too-little");
    expect(by(reason(1, { kind: "context" }))).toBe("too-little");
    expect(by(reason(1, { state: "absent" }))).toBe("too-little");
    expect(agreement(harbour(), [view("harbour-loss", "supported")]).why).toBe(
      "Harbour loss is supported; no finding or test speaks for harbour loss.",
    );
  });

  it("not while a line stands open that names another disease", () => {
    expect(agreement(harbour(), supported, { open: [open("scarring")] })).toMatchObject({
      verdict: "too-little",
      why: "Harbour loss is supported; scarring is not yet answered.",
    });
    expect(agreement(harbour(), supported, { open: [open("scarring", true)] }).verdict).toBe("agrees");
    expect(agreement(harbour(), supported, { open: [open("distress")] }).verdict).toBe("agrees");
    const net = [view("net-scar", "supported", carried)];
    const netIs: Impression[] = [{ disorder: "net-scar", certainty: "definite" }];
    expect(agreement(netIs, net, { open: [open("scarring")] }).verdict).toBe("agrees");
    expect(agreement(netIs, net, { open: [open("lice")] }).verdict).toBe("too-little");
  });

  it("not with what leads but is only possible", () => {
    expect(agreement(harbour("possible"), [view("harbour-loss", "possible", carried)])).toMatchObject({
      verdict: "too-little",
      why: "Harbour loss is possible; what was recorded is too little to support it.",
    });
  });

  it("with a second disorder that is named", () => {
    const both: Impression[] = [...harbour(), { disorder: "rope-wear", certainty: "probable" }];
    const list = [view("harbour-loss", "supported", carried), view("rope-wear", "possible", carried)];
    expect(agreement(both, list, { second: "rope-wear" }).verdict).toBe("agrees");
    expect(agreement(both, list)).toMatchObject({
      verdict: "partly",
      why: "Harbour loss is supported; rope wear is possible.",
    });
  });

  it("with a firm impression, whatever possibles stand beside it", () => {
    const differential: Impression[] = [...harbour(), { disorder: "net-scar", certainty: "possible" }];
    expect(agreement(differential, supported).verdict).toBe("agrees");
  });
});

describe("the evidence parts ways", () => {
  const wrong: Impression[] = [{ disorder: "rope-wear", certainty: "probable" }];

  it("with an impression that is unlikely while something else is supported", () => {
    expect(agreement(wrong, supported)).toMatchObject({
      verdict: "disagrees",
      why: "Rope wear is unlikely; the findings favour harbour loss (supported), chiefly by hooked ends, many.",
    });
  });

  it("in part, with one that is possible behind a leader that is no more than possible", () => {
    const close = [view("harbour-loss", "possible", carried), view("rope-wear", "possible")];
    expect(agreement(wrong, close).verdict).toBe("partly");
    expect(agreement([{ disorder: "rope-wear", certainty: "possible" }], close).verdict).toBe("too-little");
  });

  it("in part, with a supported one while another leads that is supported and not recorded", () => {
    const two = [view("harbour-loss", "supported", carried), view("rope-wear", "supported", carried)];
    expect(agreement(wrong, two)).toEqual({
      recorded: ["rope-wear"],
      verdict: "partly",
      why: "Rope wear is supported; the findings favour harbour loss (supported), chiefly by hooked ends, many.",
    });
    expect(agreement([...wrong, ...harbour("possible")], two).verdict).toBe("agrees");
    const behind = [view("harbour-loss", "possible", carried), view("rope-wear", "supported", carried)];
    expect(agreement(wrong, behind).verdict).toBe("agrees");
  });

  it("with what was excluded and is supported, not with what is possible", () => {
    expect(agreement(harbour("excluded"), supported)).toMatchObject({
      recorded: [],
      verdict: "disagrees",
      why: "The findings favour harbour loss (supported), chiefly by hooked ends, many, which was recorded as excluded.",
    });
    expect(agreement(harbour("excluded"), [view("harbour-loss", "possible", carried)])).toMatchObject({
      verdict: "no-impression",
      why: "No impression is recorded; the findings favour harbour loss (possible), chiefly by hooked ends, many.",
    });
  });

  it("not with one of which nothing was recorded", () => {
    const silent = [view("harbour-loss", "possible", carried), view("rope-wear", "not assessable")];
    expect(agreement(wrong, silent)).toMatchObject({
      verdict: "too-little",
      why: "Rope wear is not assessable; nothing that bears on it was recorded.",
    });
    const clear = [view("harbour-loss", "supported", carried), view("rope-wear", "not assessable")];
    expect(agreement(wrong, clear).verdict).toBe("partly");
  });

  it("nor does it speak without an impression", () => {
    expect(agreement([], [view("harbour-loss", "unlikely")])).toMatchObject({
      verdict: "no-impression",
      why: "No impression is recorded.",
    });
  });
});

describe("nothing abnormal found", () => {
  const sound: Impression[] = [{ disorder: "sound-scalp", certainty: "probable" }];
  const unlikely = [view("harbour-loss", "unlikely")];
  const comparable = { comparable: true, why: "" };

  it("agrees where a healthy scalp compares and enough was looked for", () => {
    expect(agreement(sound, unlikely, { healthy: comparable })).toMatchObject({
      verdict: "agrees",
      why: "The findings recorded are also seen on healthy scalps.",
    });
    expect(agreement(sound, unlikely, { healthy: comparable, recorded: 2 })).toMatchObject({
      verdict: "too-little",
      why: "Few findings were looked for, present or absent.",
    });
  });

  it("does not agree with a supported disorder, and only in part with open lines or a complaint", () => {
    expect(agreement(sound, supported, { healthy: comparable }).verdict).toBe("disagrees");
    expect(agreement(sound, unlikely, { healthy: comparable, open: [open("scarring")] })).toMatchObject({
      verdict: "partly",
      why: "Scarring stands open.",
    });
    expect(agreement(sound, unlikely, { healthy: comparable, open: [open("scarring", true)] }).verdict).toBe(
      "agrees",
    );
    expect(agreement(sound, [view("harbour-loss", "possible", carried)])).toMatchObject({
      verdict: "partly",
      why: "The findings speak for harbour loss more than for a healthy scalp; the findings favour harbour loss (possible), chiefly by hooked ends, many.",
    });
  });
});

describe("what the findings favour", () => {
  const because = (...reasons: ReturnType<typeof reason>[]) =>
    agreement([], [view("net-scar", "not assessable"), view("harbour-loss", "supported", { for: reasons })])
      .why;
  const says = (words: string) => reason(2, { says: words });

  it("is told by the two weightiest findings, never by the context", () => {
    const three = because(
      reason(3, { kind: "context", says: "Works at the harbour" }),
      says("Hooked ends, many"),
      says("Tar dots, few"),
      says("Pale rings, few"),
    );
    expect(three).toContain("harbour loss (supported), chiefly by");
    expect(three).toMatch(/hooked ends, many.* and .*tar dots, few/iu);
    expect(three).not.toMatch(/pale rings|works at/iu);
  });
  it("is told without reasons when there are none but the context", () => {
    expect(because(reason(3, { kind: "context", says: "Works at the harbour" }))).not.toContain("chiefly by");
  });
});
