import { describe, expect, it } from "vitest";
import { type Audit, audit } from "../../src/due/audit.js";
import { auditCsv, auditJson, auditSheet } from "../../src/due/audit-sheet.js";
import { linesOpen, middles, untilSent } from "../../src/due/days.js";
import { disclosed } from "../../src/due/disclose.js";
import type { SafetyLine, Weighed } from "../../src/due/extract.js";
import { followed } from "../../src/due/proof.js";
import { loadPack } from "../../src/letter/pack.js";
import { composeSheet } from "../../src/letter/sheet.js";
import { renderText } from "../../src/page/text.js";
import { clinic, knowledge } from "../letter/compose.js";
import { UNWEIGHED, visit } from "./invented.js";

const weighed = (w: Partial<Weighed>) => ({ weighed: { ...UNWEIGHED, ...w } });
const said = (disorder: string, certainty: "definite" | "probable" | "excluded" = "probable") => ({
  impression: [{ disorder, certainty }],
});
const leads = (id: string, band: "supported" | "possible" | "unlikely" = "supported") => ({
  leading: { id, band },
});
const [AREATA, TINEA] = ["alopecia-areata", "tinea-capitis"];
const LATER = { visit: "V-2", date: "2026-06-04" };

/** A person's first visit, and a later one in which a test names the disorder. */
function person(n: number, first: Partial<Weighed>, proven: string) {
  const who = { patient: `P-${n}`, family: `Family${n}` };
  return [
    visit({ ...who, visit: `A-${n}` }, weighed(first)),
    visit({ ...who, visit: `B-${n}`, date: "2026-06-04" }, weighed({ proven: [proven] })),
  ];
}

const people = (count: number, from: number, first: Partial<Weighed>, proven: string) =>
  Array.from({ length: count }, (_, i) => person(from + i, first, proven)).flat();

const run = (visits: Parameters<typeof audit>[0]["visits"], own = false): Audit =>
  audit({ visits, register: null, today: "2027-01-01", own });

describe("proof", () => {
  it("is the first test of a later day that names a disorder", () => {
    const first = visit({}, weighed(said(AREATA)));
    const test = visit(LATER, weighed({ proven: [TINEA] }));
    const course = visit({ visit: "V-3", date: "2026-07-01" }, weighed(said(AREATA, "definite")));
    expect(followed([first, test, course])?.proof).toEqual({ disorders: [TINEA], by: "test" });
  });

  it("else is the last definite impression of a later day", () => {
    const first = visit({}, weighed(said(AREATA, "definite")));
    const second = visit(LATER, weighed(said(AREATA, "definite")));
    const third = visit({ visit: "V-3", date: "2026-07-01" }, weighed(said(TINEA, "definite")));
    const unsure = visit({ visit: "V-4", date: "2026-08-01" }, weighed(said(AREATA)));
    expect(followed([first, second, third, unsure])?.proof).toEqual({ disorders: [TINEA], by: "course" });
    expect(followed([first])?.proof).toBeNull();
    expect(followed([first, visit({ visit: "V-2" }, weighed(said(TINEA, "definite")))])?.proof).toBeNull();
  });

  it("in the first visit itself was seen by both, and counts nobody", () => {
    expect(followed([visit({}, weighed({ proven: [TINEA] })), visit(LATER)])).toBeNull();
  });
});

describe("an audit", () => {
  it("counts how often impression and engine agreed with proof, with Wilson's interval", () => {
    const visits = [
      ...people(8, 0, { ...said(AREATA), ...leads(AREATA) }, AREATA),
      ...people(6, 20, { ...said(AREATA), ...leads(TINEA) }, TINEA),
    ];
    const { overall, persons, byBand, byDisorder } = run(visits);
    expect(persons).toBe(14);
    expect(overall.of).toBe(14);
    expect(overall.impression).toMatchObject({ yes: 8, of: 14, share: 8 / 14 });
    expect(overall.impression?.low).toBeCloseTo(0.3259, 4);
    expect(overall.impression?.high).toBeCloseTo(0.7862, 4);
    expect(overall.engine).toMatchObject({ yes: 14, of: 14, high: 1 });
    expect(byBand).toMatchObject([{ id: "supported", of: 14 }]);
    expect(byDisorder.map((r) => [r.id, r.of, r.impression?.yes, r.engine?.yes])).toEqual([
      [AREATA, 8, 8, 8],
      [TINEA, 6, 0, 6],
    ]);
  });

  it("takes an excluded impression and an unlikely leader for no answer", () => {
    const { overall } = run(people(6, 0, { ...said(TINEA, "excluded"), ...leads(TINEA, "unlikely") }, TINEA));
    expect([overall.impression?.yes, overall.engine?.yes]).toEqual([0, 0]);
  });

  it("counts a person once, with the first visit", () => {
    const third = visit(
      { patient: "P-0", family: "Family0", visit: "C", date: "2026-08-01" },
      weighed({ proven: [TINEA] }),
    );
    const { overall } = run([...people(5, 0, said(TINEA), TINEA), third]);
    expect(overall.of).toBe(5);
  });

  it("holds back numbers under five, with the name of their row, and nothing in the clinic's own copy", () => {
    const visits = [
      ...people(9, 0, said(AREATA), AREATA),
      ...people(6, 20, said(TINEA), TINEA),
      ...people(4, 40, said("scalp-psoriasis"), "scalp-psoriasis"),
    ];
    // The six stand back with the four: a total less the rest would tell of them.
    expect(run(visits).byDisorder.map((r) => [r.id, r.of])).toEqual([
      [AREATA, 9],
      ["others", null],
    ]);
    expect(run(visits, true).byDisorder.map((r) => [r.id, r.of])).toEqual([
      [AREATA, 9],
      [TINEA, 6],
      ["scalp-psoriasis", 4],
    ]);
    const out = JSON.stringify(auditJson(run(visits), "2027-01-01")) + auditCsv(run(visits));
    expect(out).not.toContain("psoriasis");
    expect(out).not.toContain("tinea");
  });

  it("hides the total where one hidden row is all that is left", () => {
    const { overall, byDisorder } = run(people(4, 0, said(TINEA), TINEA));
    expect(overall).toEqual({ id: "all", of: null, impression: null, engine: null });
    expect(byDisorder).toMatchObject([{ id: "others", of: null }]);
  });

  it("holds back who disagreed where they are few", () => {
    const visits = [...people(6, 0, said(TINEA), TINEA), ...people(1, 20, said(AREATA), TINEA)];
    expect(run(visits).overall.of).toBeNull();
    expect(run(visits, true).overall.impression).toMatchObject({ yes: 6, of: 7 });
  });

  it("prints its figures in every language", () => {
    const visits = people(8, 0, { ...said(AREATA), ...leads(AREATA) }, AREATA);
    for (const [language, sentence] of [
      ["en-GB", "Our impression agreed with it in 8 of 8 (100 %, 95 % interval 68–100 %)"],
      ["de", "Unsere Beurteilung stimmte in 8 von 8 damit überein (100 %, 95-%-Intervall 68–100 %)"],
      ["es", "Nuestra impresión coincidió en 8 de 8 (100 %, intervalo del 95 % 68–100 %)"],
    ] as const) {
      const words = loadPack(language).pack?.words;
      if (!words) throw new Error(language);
      const sheet = auditSheet(run(visits), "2027-01-01", { knowledge, words });
      const { value, problems } = composeSheet({
        name: "audit",
        ...sheet,
        clinic: { ...clinic, language },
        date: "2027-01-01",
      });
      expect(problems.filter((p) => p.severity === "error")).toEqual([]);
      const text = renderText(value ?? ({} as never)).replace(/\s+/gu, " ");
      expect(text).toContain(sentence);
      expect(text).toContain("Newcombe 1998");
    }
  });
});

describe("small numbers", () => {
  const rows = (...counts: number[]) => counts.map((n, i) => ({ id: `r${i}`, parts: [n] }));
  const shownOf = (...counts: number[]) => {
    const { shown, total } = disclosed(rows(...counts));
    return [[...shown].join(" "), total];
  };

  it.each([
    [[5, 6], "r0 r1", true],
    [[0, 6], "r0 r1", true],
    [[4, 6, 9], "r2", true],
    [[4, 4, 9], "r2", true],
    [[1, 1, 6, 9], "r3", true],
    [[2, 3, 9], "r2", true],
    [[1, 2, 9], "", true],
    [[4], "", false],
    [[4, 9], "", true],
    [[1, 0], "r1", false],
  ] as const)("of rows %j show %j, the total %s", (counts, shown, total) => {
    expect(shownOf(...counts)).toEqual([shown, total]);
  });

  it("never let a hidden row be worked out from the total and the rows shown", () => {
    for (let seed = 0; seed < 400; seed++) {
      const counts = Array.from({ length: 1 + (seed % 6) }, (_, i) => ((seed * 7919 + i * 104729) % 97) % 13);
      const all = rows(...counts);
      const { shown, total } = disclosed(all);
      const hidden = all.filter((r) => !shown.has(r.id));
      for (const r of all)
        if ((r.parts[0] ?? 0) > 0 && (r.parts[0] ?? 0) < 5) expect(shown.has(r.id)).toBe(false);
      if (!total || hidden.length === 0) continue;
      const sum = hidden.reduce((s, r) => s + (r.parts[0] ?? 0), 0);
      expect(hidden.length, counts.join()).toBeGreaterThan(1);
      expect(sum, counts.join()).toBeGreaterThanOrEqual(5);
    }
  });
});

describe("days", () => {
  const line = (open: boolean): SafetyLine => ({
    id: "scarring",
    why: "W.",
    urgency: "days",
    who: "us",
    open,
  });

  it("of must-not-miss lines run from the first raising to the closing, or to today", () => {
    const raised = visit({}, { lines: [line(true)] });
    const again = visit({ visit: "V-2", date: "2026-03-20" }, { lines: [line(true)] });
    const closing = visit(
      { visit: "V-3", date: "2026-04-01" },
      { lines: [line(false)], closes: ["scarring"] },
    );
    expect(linesOpen([[raised, again, closing]], "2026-05-01")).toEqual({ closed: [20], open: [] });
    expect(linesOpen([[raised, again]], "2026-05-01")).toEqual({ closed: [], open: [50] });
    expect(linesOpen([[visit({}, { lines: [line(false)], closes: ["scarring"] })]], "2026-05-01")).toEqual({
      closed: [0],
      open: [],
    });
  });

  it("have a middle and middles of both halves", () => {
    expect(middles([])).toBeNull();
    expect(middles([3])).toEqual({ lower: 3, median: 3, upper: 3 });
    expect(middles([1, 2, 4, 9])).toEqual({ lower: 1.5, median: 3, upper: 6.5 });
    expect(middles([1, 2, 3, 4, 100])).toEqual({ lower: 2, median: 3, upper: 4 });
  });

  it("to sending run from the signing to the first letter that left", () => {
    const sent = (on: string) => ({
      kind: "sent" as const,
      at: `${on}T10:00:00Z`,
      by: "wen",
      visit: "V-1",
      patient: "TS-40417",
      edition: 1,
      document: "referral-letter",
      addressee: null,
      sha256: "0",
      of: "h",
      how: "post",
      on,
      line: 1,
      hash: on,
      previous: [],
    });
    expect(untilSent([visit()], [sent("2026-03-20"), sent("2026-03-15")])).toEqual([3]);
    expect(untilSent([visit({ visit: "V-9" })], [sent("2026-03-20")])).toEqual([]);
  });
});
