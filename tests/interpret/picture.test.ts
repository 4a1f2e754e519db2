import { describe, expect, it } from "vitest";
import { factsOf } from "../../src/interpret/facts.js";
import { type FindingEntry, pictureOf, scarringSign } from "../../src/interpret/picture.js";
import type { Site } from "../../src/visit/visit.js";
import { smallKnowledge } from "./small-knowledge.js";
import { NO_MEASURES, type Shown, site, visitWith } from "./visits.js";

const small = smallKnowledge();
const picture = (...sites: Site[]) => pictureOf(factsOf(visitWith({ sites }), NO_MEASURES, small), sites);

describe("one entry per finding", () => {
  const merged = (one: Shown, two: Shown) => {
    const [entry] = picture(site("vertex", { "tar-dots": one }), site("frontal", { "tar-dots": two }));
    return `${entry?.state} ${entry?.amount} ${entry?.site}`;
  };

  it("takes the largest amount, and absent only where nowhere present", () => {
    expect(merged("few", "several")).toBe("present several frontal");
    expect(merged("several", "few")).toBe("present several vertex");
    expect(merged("none", "single")).toBe("present single frontal");
    expect(merged("single", "none")).toBe("present single vertex");
    expect(merged("none", "none")).toBe("absent null frontal");
  });

  it("ranks one without an amount between few and several", () => {
    expect(merged("seen", "few")).toBe("present null vertex");
    expect(merged("few", "seen")).toBe("present null frontal");
    expect(merged("seen", "several")).toBe("present several frontal");
    expect(merged("several", "seen")).toBe("present several vertex");
  });

  it("names the first place in the alphabet among equals", () => {
    expect(merged("few", "few")).toBe("present few frontal");
  });

  it("keeps eyebrows apart from the scalp, knows no unknown finding, and stands in order of id", () => {
    const found = picture(
      site("vertex", { "tar-dots": "few", "pale-rings": "none", "no-such-thing": "many" }),
      site("left eyebrow", { "tar-dots": "many" }),
      site("right eyebrow", { "tar-dots": "few" }),
    );
    expect(found).toEqual([
      { kind: "finding", id: "pale-rings", state: "absent", amount: null, site: "vertex" },
      { kind: "finding", id: "tar-dots", state: "present", amount: "few", site: "vertex" },
      {
        kind: "finding",
        id: "tar-dots",
        state: "present",
        amount: "many",
        site: "left eyebrow",
        place: "eyebrow",
      },
    ]);
  });
});

describe("a scarring sign", () => {
  const sign = (finding: string, amount: FindingEntry["amount"], state: FindingEntry["state"] = "present") =>
    scarringSign([{ kind: "finding", id: finding, state, amount, site: "vertex" }], small);

  it("stands where one is present, and more than one where one alone proves little", () => {
    expect(sign("salt-crust", "single")).toBe(true);
    expect(sign("salt-crust", null, "absent")).toBe(false);
    expect(sign("tar-dots", "many")).toBe(false);
    const crust = small.findings["salt-crust"];
    if (!crust) throw new Error("no salt crust");
    const weak = {
      ...small,
      findings: { ...small.findings, "salt-crust": { ...crust, one_alone_counts: false } },
    };
    const of = (amount: FindingEntry["amount"]) =>
      scarringSign([{ kind: "finding", id: "salt-crust", state: "present", amount, site: "vertex" }], weak);
    expect(of("single")).toBe(false);
    expect(of("few")).toBe(true);
    expect(of(null)).toBe(true);
  });
});
