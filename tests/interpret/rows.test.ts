import { describe, expect, it } from "vitest";
import { chooseRows, type Profile } from "../../src/interpret/rows.js";
import { type EvidenceRow, evidenceRowSchema } from "../../src/knowledge/schema.js";
import { smallKnowledge } from "./small-knowledge.js";

const knowledge = smallKnowledge();
const row = (parts: Record<string, unknown>): EvidenceRow =>
  evidenceRowSchema.parse({ source: "quay2021", how: "read", ...parts });
const profile = (...fits: string[]): Profile => {
  const axes = knowledge.weighing.subgroups.filter((s) => fits.includes(s.word)).map((s) => s.axis);
  return { fits: new Set(fits), knownAxes: new Set(axes), key: fits.join("|") };
};
const choose = (
  rows: readonly EvidenceRow[],
  who = profile(),
  place?: string,
  reading: "present" | "absent" = "present",
) => chooseRows(rows, who, reading, place, knowledge);
const shares = (chosen: ReturnType<typeof choose>) =>
  chosen?.studies.map((s) => Math.round(s.share * 1000) / 1000);

describe("rows that may not be pooled", () => {
  it("leave out means, which are not shares of patients", () => {
    const mean = row({ percent: 20.9, unit: "mean percent of hairs, not of patients" });
    expect(choose([mean])).toBeUndefined();
    expect(shares(choose([mean, row({ positive: 3, of: 10 })]))).toEqual([0.3]);
  });

  it("read eyebrow rows at the eyebrow and nowhere else", () => {
    const rows = [row({ positive: 9, of: 10, site: "eyebrow" }), row({ positive: 1, of: 10 })];
    expect(shares(choose(rows))).toEqual([0.1]);
    expect(shares(choose(rows, profile(), "eyebrow"))).toEqual([0.9]);
  });

  it("of a place where no findings are recorded feed no scalp weight", () => {
    const face = row({ positive: 9, of: 10, site: "face" });
    expect(choose([face])).toBeUndefined();
    expect(shares(choose([face, row({ positive: 1, of: 10, source: "net2019" })]))).toEqual([0.1]);
  });

  it("of a review and of a study that it covers count one side, the heavier", () => {
    const { sources } = knowledge;
    const covering = {
      ...sources,
      quay2021: { ...sources.quay2021, citation: "Review.", access: "read" as const, covers: ["net2019"] },
    };
    const pooled = (rows: readonly EvidenceRow[]) =>
      shares(chooseRows(rows, profile(), "present", undefined, { ...knowledge, sources: covering }));
    const study = row({ positive: 15, of: 50, source: "net2019" });
    const other = row({ positive: 5, of: 50, source: "rope2020" });
    expect(pooled([row({ positive: 40, of: 100 }), study, other])).toEqual([0.4, 0.1]);
    expect(pooled([row({ positive: 20, of: 49 }), study, other])).toEqual([0.3, 0.1]);
    expect(pooled([row({ positive: 20, of: 50 }), study, other])).toEqual([0.3, 0.1]);
  });
});

describe("how much a row counts for", () => {
  const patients = (r: EvidenceRow) => choose([r])?.studies.reduce((sum, s) => sum + s.patients, 0);

  it("keeps the count where percentage and count disagree", () => {
    expect(shares(choose([row({ positive: 20, of: 50, percent: 44 })]))).toEqual([0.4]);
  });

  it("halves what is from memory and quarters what is only implied", () => {
    expect(patients(row({ positive: 4, of: 40 }))).toBe(40);
    expect(patients(row({ positive: 4, of: 40, how: "memory" }))).toBe(20);
    expect(patients(row({ positive: 0, of: 40, implied: true }))).toBe(10);
  });

  it("gives a percentage without a number of patients a modest one", () => {
    expect(patients(row({ percent: 61 }))).toBe(knowledge.weighing.rows.percent_patients);
  });

  it("splits a review about its mean by a quarter of its range", () => {
    const chosen = choose([row({ percent: 50, range: [10, 90] })]);
    const sd = 0.8 / 4 / Math.SQRT2;
    expect(shares(chosen)).toEqual([0.5 - sd, 0.5 + sd].map((s) => Math.round(s * 1000) / 1000));
  });

  it("hears a frequency word only where no source prints a number", () => {
    const word = row({ frequency: "common", source: "net2019" });
    expect(choose([word])?.studies).toHaveLength(2);
    expect(shares(choose([word, row({ positive: 9, of: 10 })]))).toEqual([0.9]);
  });
});

describe("parts of a disorder", () => {
  const men = row({ positive: 50, of: 50, subgroup: "men" });
  const women = row({ positive: 10, of: 50, subgroup: "women" });
  const whole = row({ positive: 60, of: 100 });

  it("never join the whole group of the same source", () => {
    expect(shares(choose([men, women, whole]))).toEqual([0.6]);
  });

  it("stand for it where they fit the patient", () => {
    expect(shares(choose([men, women, whole], profile("men")))).toEqual([1]);
    expect(shares(choose([men, women], profile("women")))).toEqual([0.2]);
  });

  it("are taken together, for no more patients than the largest, where nothing tells them apart", () => {
    const early = row({ positive: 10, of: 10, subgroup: "after three weeks" });
    const late = row({ positive: 8, of: 10, subgroup: "end of treatment" });
    expect(choose([early, late])?.studies).toEqual([{ share: 0.9, patients: 10 }]);
  });

  it("of other people count half where there is nothing else", () => {
    expect(choose([men], profile("women"))?.studies).toEqual([{ share: 1, patients: 25 }]);
  });

  it("in inflamed scalps speak of absence alone", () => {
    const inflamed = row({ positive: 1, of: 8, subgroup: "inflammatory (clinical)" });
    const all = row({ positive: 19, of: 34 });
    const who = profile("inflammatory");
    expect(shares(choose([inflamed, all], who, undefined, "absent"))).toEqual([0.125]);
    expect(shares(choose([inflamed, all], who))).toEqual([Math.round((19 / 34) * 1000) / 1000]);
    const calm = row({ positive: 18, of: 26, subgroup: "non-inflammatory (clinical)" });
    expect(shares(choose([inflamed, calm, all], who, undefined, "absent"))).toEqual([0.125]);
  });
});
