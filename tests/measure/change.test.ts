/** Two and three visits of one patient: what changed, how sure that is, and what must never be compared. */
import { qbeta } from "lib-r-math.js";
import { describe, expect, test } from "vitest";
import { CHANGE_PROBLEMS } from "../../src/base/problem-table.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { compareVisits } from "../../src/measure/change/compare.js";
import { fieldsToSeeChange } from "../../src/measure/change/measures.js";
import { percentFall } from "../../src/measure/change/response.js";
import { measure } from "../../src/measure/index.js";
import type { Amount, FindingSeen, Visit } from "../../src/visit/visit.js";
import { site, visit } from "./visit-for-tests.js";

const knowledge = loadKnowledge();
const first = (given: Partial<Visit> = {}) => visit({ id: "TS-1", date: "2026-01-15", ...given });
const second = (given: Partial<Visit> = {}) => visit({ id: "TS-2", date: "2026-04-15", ...given });
const change = (...visits: Visit[]) => {
  const { value } = compareVisits(visits, knowledge);
  if (!value) throw new Error("nothing compared");
  return value;
};
const ids = (...visits: Visit[]) => compareVisits(visits, knowledge).problems.map((p) => p.id);

describe("what may be compared", () => {
  test("another patient number, birth date or the same visit stops it", () => {
    const patient = visit().patient;
    expect(ids(first(), second({ patient: { ...patient, id: "TS-9" } }))).toEqual(["mixed-patients"]);
    expect(ids(first(), second({ patient: { ...patient, born: "1984-09-03" } }))).toEqual(["born-differs"]);
    expect(ids(first(), second({ id: "TS-1" }))).toEqual(["same-visit-twice"]);
    expect(ids(first())).toEqual(["too-few-visits"]);
    for (const v of [second({ patient: { ...patient, id: "TS-9" } }), second({ id: "TS-1" })]) {
      expect(compareVisits([first(), v], knowledge).value).toBeUndefined();
    }
  });

  test("a changed name or sex stops it until the later visit accepts it", () => {
    const patient = visit().patient;
    const lund = { ...patient, name: { ...patient.name, family: "Lund" } };
    const accept = (id: string) => [{ id, reason: "Asked at the desk." }];
    expect(ids(first(), second({ patient: lund }))).toEqual(["family-differs"]);
    expect(compareVisits([first(), second({ patient: lund })], knowledge).value).toBeUndefined();
    expect(ids(first(), second({ patient: lund, accept: accept("family-differs") }))).toEqual([]);
    expect(ids(first({ accept: accept("family-differs") }), second({ patient: lund }))).toEqual([
      "family-differs",
    ]);
    expect(ids(first(), second({ patient: { ...patient, sex: "male" } }))).toEqual(["sex-differs"]);
    expect(ids(first(), second({ patient: { ...patient, sex: "not stated" } }))).toEqual([]);
  });

  test("another scope or one date is said but does not stop it", () => {
    expect(ids(first(), second({ scope: { magnification: 70 } }))).toEqual(["scope-differs"]);
    expect(ids(first(), second({ date: "2026-01-15" }))).toEqual(["same-day-visits"]);
  });

  test("a change no scalp makes is asked about", () => {
    const left = (percent: number) => ({ extent: { top: 0, left: percent, right: 0, back: 0 } });
    expect(ids(first(left(4)), second(left(40)))).toEqual(["extent-tenfold"]);
    expect(ids(first(left(5)), second(left(40)))).toEqual([]);
    const field = (fieldDiameterMm: number) => ({
      scope: { fieldDiameterMm },
      sites: [site("vertex", { fields: [{ hairs: 130 }] })],
    });
    expect(ids(first(field(9)), second(field(5)))).toEqual(["scope-differs", "density-jump"]);
    // Hair come back in a bare patch is no slip.
    const regrown = (hairs: number) => ({
      scope: { fieldDiameterMm: 9 },
      sites: [site("vertex", { fields: [{ hairs }] })],
    });
    expect(ids(first(regrown(8)), second(regrown(100)))).toEqual([]);
    const shafts = (um: number) => ({
      sites: [site("vertex", { diametersUm: Array.from({ length: 9 }, (_, i) => um + i) })],
    });
    expect(ids(first(shafts(40)), second(shafts(80)))).toEqual(["diameter-jump"]);
    expect(ids(first(shafts(50)), second(shafts(55)))).toEqual([]);
  });

  test("every problem id is in the table", () => {
    for (const id of ids(first(), second({ id: "TS-1" }))) expect(Object.keys(CHANGE_PROBLEMS)).toContain(id);
  });

  test("visits are ordered by date, whatever order they come in", () => {
    const third = visit({ id: "TS-3", date: "2026-07-15" });
    const c = change(third, first(), second());
    expect(c.visits.map((v) => v.visit)).toEqual(["TS-1", "TS-2", "TS-3"]);
    expect(c.steps.map((s) => `${s.from.visit} ${s.to.visit} ${s.days}`)).toEqual([
      "TS-1 TS-2 90",
      "TS-2 TS-3 91",
    ]);
    expect([c.overall.from.visit, c.overall.to.visit]).toEqual(["TS-1", "TS-3"]);
    expect(change(first(), second(), third)).toEqual(c);
  });
});

describe("counts", () => {
  const counted = (hairs: number, fields: number, extra: object = {}) => ({
    scope: { fieldDiameterMm: 5 },
    sites: [site("vertex", { fields: Array.from({ length: fields }, () => ({ hairs, ...extra })) })],
  });
  const density = (a: [number, number], b: [number, number]) => {
    const m = change(first(counted(...a)), second(counted(...b))).overall.measures;
    const found = m.find((x) => x.id === "hair-density");
    if (!found) throw new Error("no density");
    return found;
  };

  test("60 then 80 hairs in one field each: published spread holds no change and a change worth seeing", () => {
    const d = density([60, 1], [80, 1]);
    // Variance over mean 2.2 + 0.098 x 0.098 x 70 = 2.872; the beta quantiles of 80 and 60 over it, from R.
    const worth = [80 / 2.87228 + 0.5, 60 / 2.87228 + 0.5] as const;
    const limits = [0.025, 0.975].map((q) => Number(qbeta(q, ...worth)));
    expect(d.effect?.low).toBeCloseTo(100 * ((limits[0] ?? 0) / (1 - (limits[0] ?? 0)) - 1), 3);
    expect(d.effect?.high).toBeCloseTo(100 * ((limits[1] ?? 0) / (1 - (limits[1] ?? 0)) - 1), 3);
    expect(d.effect?.method).toBe("limits from published spread of counts");
    expect(d.spread).toBe("published");
    expect(d.verdict).toBe("too little counted to tell");
    expect(d.smallest).toBe(69);
    expect(d.needed?.fields).toBe(11);
  });

  test("five fields of each tell the same difference apart", () => {
    expect(density([60, 5], [80, 5])).toMatchObject({ verdict: "more than counting error", direction: "up" });
  });

  test("many hairs and nearly no change is within counting error", () => {
    expect(density([100, 5], [101, 5]).verdict).toBe("within counting error");
  });

  test("a sure change under a tenth carries the warning about counting again", () => {
    const d = density([100, 30], [108, 30]);
    expect(d.verdict).toBe("more than counting error");
    expect(d.notes?.join(" ")).toMatch(/matched/u);
    expect(density([60, 5], [80, 5]).notes?.join(" ") ?? "").not.toMatch(/matched/u);
  });

  test("from none to some has a test but no percentage", () => {
    const d = density([0, 4], [12, 4]);
    expect(d.effect).toBeUndefined();
    expect(d.verdict).toBe("more than counting error");
    const back = density([12, 4], [0, 4]);
    expect(back.effect?.value).toBe(-100);
  });

  test("shares and means have their own limits", () => {
    const a = first({
      sites: [
        site("vertex", { fields: [{ hairs: 100, thin: 10 }], diametersUm: [50, 60, 55, 52, 58, 61, 49, 57] }),
      ],
    });
    const b = second({
      sites: [
        site("vertex", { fields: [{ hairs: 100, thin: 35 }], diametersUm: [51, 59, 56, 52, 58, 60, 50, 57] }),
      ],
    });
    const m = change(a, b).overall.measures;
    expect(m.find((x) => x.id === "shaft-diameter")?.effect?.method).toMatch(/Welch/u);
    expect(m.find((x) => x.id === "shaft-diameter-cv")?.verdict).toBeNull();
  });

  const thinIn = (...thin: readonly number[]) => ({
    sites: [site("vertex", { fields: thin.map((n) => ({ hairs: 100, thin: n, units: { 1: n, 2: 50 } })) })],
  });
  const compared = (a: readonly number[], b: readonly number[], id = "thin-share") => {
    const found = change(first(thinIn(...a)), second(thinIn(...b))).overall.measures.find((x) => x.id === id);
    if (!found) throw new Error(`no ${id}`);
    return found;
  };

  test("shares and hairs per unit from one field are not told apart from chance, however far apart", () => {
    for (const id of ["thin-share", "single-unit-share", "hairs-per-unit"]) {
      for (const [a, b] of [[[5], [60]] as const, [[5], [60, 61]] as const]) {
        const m = compared(a, b, id);
        expect(m).toMatchObject({ verdict: "too few fields to tell", spread: "none", needed: { fields: 3 } });
        expect([m.effect, m.p]).toEqual([undefined, undefined]);
        expect(m.notes?.join(" ")).toMatch(/not told apart from chance/u);
      }
      expect(compared([5, 6], [60, 62], id).verdict).toBe("more than counting error");
    }
  });

  test("fields that hold none at either visit have not changed", () => {
    expect(compared([0, 0], [0, 0]).verdict).toBe("within counting error");
    expect(compared([0], [0]).verdict).toBe("too few fields to tell");
    expect(compared([0, 0], [0, 9]).verdict).toBe("too few fields to tell");
  });

  test("shares of fields that differ tell how many would show ten points", () => {
    // 10, 20, 30 then 20, 20, 20 of 100: design effect 12.6 / 4.1 = 3.07; ten fields by Student's point of 18.1, from scipy.
    const m = compared([10, 20, 30], [20, 20, 20]);
    expect(m.verdict).toBe("too little counted to tell");
    expect(m.needed).toEqual({ points: 10, fields: 10 });
    expect(m.effect?.high).toBeCloseTo(15.7, 0);
  });

  test("what rests on the scale says so where another scope was used", () => {
    const here = (given: object) => ({ ...thinIn(10, 20), ...given });
    const notes = (now: object) =>
      change(
        first(here({ scope: { fieldDiameterMm: 5, magnification: 20 } })),
        second(here({ scope: { fieldDiameterMm: 5, magnification: 20, ...now } })),
      ).overall.measures.flatMap((m) => (m.notes?.some((n) => n.includes("scale")) ? [m.id] : []));
    expect(notes({})).toEqual([]);
    expect(notes({ fieldDiameterMm: 7 })).toEqual(["hair-density"]);
    expect(notes({ magnification: 50 })).toEqual(["hair-density"]);
  });

  test("counts per field are left out when the field of view differs, densities are not", () => {
    const a = first(counted(40, 2, { yellowDots: 3 }));
    const b = second({ ...counted(40, 2, { yellowDots: 3 }), scope: { fieldDiameterMm: 7 } });
    const step = change(a, b).overall;
    expect(step.measures.map((m) => m.id)).toContain("hair-density");
    expect(step.notCompared.find((n) => n.id === "yellow-dots-per-field")?.why).toBe("field of view differs");
  });

  test("what was measured once only is said, not compared", () => {
    const step = change(first(counted(40, 2)), second()).overall;
    expect(step.measures).toEqual([]);
    expect(step.notCompared.find((n) => n.id === "hair-density")).toMatchObject({
      why: "not measured",
      on: "2026-04-15",
    });
  });

  test("a series holds every visit that has the measure", () => {
    const third = visit({ id: "TS-3", date: "2026-07-15", ...counted(50, 2) });
    const s = change(first(counted(40, 2)), second(), third).series.find((x) => x.id === "hair-density");
    expect(s?.points.map((p) => p.visit)).toEqual(["TS-1", "TS-3"]);
  });

  test("fields needed are offered for a single visit too", () => {
    const density = measure(first(counted(40, 1)), knowledge).measured.find((m) => m.id === "hair-density");
    const share = measure(first(counted(40, 1, { thin: 3 })), knowledge).measured.find(
      (m) => m.id === "thin-share",
    );
    expect(density && fieldsToSeeChange(density, knowledge)).toEqual({ factor: 0.75, fields: 16 });
    expect(share && fieldsToSeeChange(share, knowledge)).toBeUndefined();
  });
});

describe("response by published thresholds", () => {
  test.each([
    [66.5, 20, "69.92"],
    [66.5, 31.4, "52.78"],
    [20, 25, "-25.00"],
  ])("scalp loss %d then %d is a fall of %s percent", (a, b, fall) => {
    expect(percentFall(a, b)?.toFixed(2)).toBe(fall);
  });

  const loss = (top: number) => ({ extent: { top, back: top, left: top, right: top } });
  const met = (a: number, b: number) => {
    const r = change(first(loss(a)), second(loss(b))).overall.responses.find((x) => x.id === "salt-score");
    return r?.thresholds.map((t) => `${t.id} ${t.met}`);
  };

  test("50 and 90 percent, and 20 or less from 50 or more", () => {
    expect(met(60, 20)).toEqual(["salt-50 true", "salt-90 false", "salt-at-most-20 true"]);
    expect(met(60, 21)).toEqual(["salt-50 true", "salt-90 false", "salt-at-most-20 false"]);
    expect(met(30, 15)).toEqual(["salt-50 true", "salt-90 false", "salt-at-most-20 null"]);
    expect(met(0, 10)).toEqual(["salt-50 null", "salt-90 null", "salt-at-most-20 null"]);
    // A share of a small score is chance: judged from 10 percent on.
    expect(met(9.9, 0)).toEqual(["salt-50 null", "salt-90 null", "salt-at-most-20 null"]);
    expect(met(10, 5)).toEqual(["salt-50 true", "salt-90 false", "salt-at-most-20 null"]);
    // 100 x (10.02 - 1.002) / 10.02 is a speck under 90 in binary.
    expect(met(10.02, 1.002)).toEqual(["salt-50 true", "salt-90 true", "salt-at-most-20 null"]);
  });

  test("a score judged by eye has no verdict about counting", () => {
    const m = change(first(loss(40)), second(loss(30))).overall.measures.find((x) => x.id === "salt-score");
    expect(m?.verdict).toBeNull();
    expect(m?.difference).toBeCloseTo(-10, 6);
  });

  const distance = (midline_cm: number) => ({ scores: { "hairline-distance": { midline_cm } } });
  const moved = (a: number, b: number) =>
    change(first(distance(a)), second(distance(b))).overall.measures.map((m) => [m.id, m.verdict]);

  test("a distance has changed from half a centimetre on, either way", () => {
    const id = "hairline-distance-midline-cm";
    expect(moved(6.4, 6.9)).toEqual([[id, "more than measuring error"]]);
    expect(moved(6.4, 6.8)).toEqual([[id, "within measuring error"]]);
    expect(moved(6.9, 6.4)).toEqual([[id, "more than measuring error"]]);
    expect(moved(6.4, 6.4)).toEqual([[id, "within measuring error"]]);
  });

  test("a grade is judged by eye", () => {
    const grade = (n: number) => ({ scores: { ludwig: { grade: n } } });
    const [m] = change(first(grade(1)), second(grade(2))).overall.measures;
    expect(m).toMatchObject({ id: "ludwig", verdict: null, difference: 1, unit: "of 3" });
  });

  test("signs of activity are compared only where as many were looked for", () => {
    const seen = (...states: ("present" | "absent")[]) => ({
      impression: [{ disorder: "alopecia-areata", certainty: "probable" as const }],
      sites: [
        site("vertex", {
          findings: states.map((state, i) => ({
            finding: ["exclamation-mark-hairs", "black-dots", "broken-hairs", "tapered-hairs"][i] ?? "",
            seen: state === "present" ? { state, amount: "many" as const } : { state },
          })),
        }),
      ],
    });
    const { measures, notCompared } = change(
      first(seen("present", "present", "present")),
      second(seen("absent", "present", "present")),
    ).overall;
    expect(measures.find((m) => m.id === "activity-signs")).toMatchObject({
      before: { value: 3 },
      after: { value: 2 },
      unit: "of 3",
      verdict: null,
    });
    expect(notCompared.filter((n) => n.id === "activity-signs")).toEqual([]);
    const four = change(
      first(seen("present", "present", "absent", "absent")),
      second(seen("absent", "present", "absent")),
    );
    expect(four.overall.measures.find((m) => m.id === "activity-signs")).toBeUndefined();
    expect(four.overall.notCompared.find((n) => n.id === "activity-signs")?.why).toBe("measured otherwise");
    // Two signs stand among the findings and are not counted.
    const two = change(first(seen("present", "present")), second(seen("absent", "present"))).overall;
    expect(JSON.stringify(two)).not.toContain("activity-signs");
  });
});

describe("findings", () => {
  const present = (
    finding: string,
    amount: Amount | null,
    count?: { count: number; fields: number },
  ): FindingSeen => ({
    finding,
    seen: { state: "present", amount, ...(count ? { count } : {}) },
  });
  const absent = (finding: string): FindingSeen => ({ finding, seen: { state: "absent" } });
  const kind = (a: FindingSeen[], b: FindingSeen[]) =>
    change(
      first({ sites: [site("vertex", { findings: a })] }),
      second({ sites: [site("vertex", { findings: b })] }),
    ).overall.findings[0]?.kind;

  test("absent and not assessed are kept apart", () => {
    expect(kind([absent("black-dots")], [present("black-dots", "few")])).toBe("appeared");
    expect(kind([], [present("black-dots", "few")])).toBe("first looked for, seen");
    expect(kind([present("black-dots", "few")], [absent("black-dots")])).toBe("went");
    expect(kind([present("black-dots", "few")], [])).toBe("not looked for again");
    expect(kind([absent("black-dots")], [absent("black-dots")])).toBe("still absent");
    expect(kind([], [absent("black-dots")])).toBe("first looked for, not seen");
  });

  test("amounts and counts", () => {
    expect(kind([present("black-dots", "few")], [present("black-dots", "many")])).toBe("grew");
    expect(kind([present("black-dots", "many")], [present("black-dots", "single")])).toBe("shrank");
    expect(kind([present("black-dots", null)], [present("black-dots", "many")])).toBe("same");
    // 3 then 5 in one field each differ within counting error although the words differ.
    const count = (n: number) => ({ count: n, fields: 1 });
    expect(kind([present("black-dots", "few", count(3))], [present("black-dots", "several", count(5))])).toBe(
      "same",
    );
    expect(kind([present("black-dots", "few", count(3))], [present("black-dots", "many", count(20))])).toBe(
      "grew",
    );
  });

  test("counts through another field of view are not compared, that nothing is seen is", () => {
    const many = [present("black-dots", "several", { count: 40, fields: 1 })];
    const few = [present("black-dots", "few", { count: 6, fields: 1 })];
    const kindAt = (mm: number, now: FindingSeen[]) =>
      change(
        first({ scope: { fieldDiameterMm: 9 }, sites: [site("vertex", { findings: many })] }),
        second({ scope: { fieldDiameterMm: mm }, sites: [site("vertex", { findings: now })] }),
      ).overall.findings[0]?.kind;
    expect([kindAt(9, few), kindAt(5, few)]).toEqual(["shrank", "same"]);
    expect(kindAt(5, [present("black-dots", "few")])).toBe("same");
    expect(kindAt(5, [absent("black-dots")])).toBe("went");
  });

  test("a marker of active disease that went speaks of less activity in the recorded disorder", () => {
    const impression = [{ disorder: "alopecia-areata", certainty: "probable" as const }];
    const activity = change(
      first({
        impression,
        sites: [site("vertex", { findings: [present("exclamation-mark-hairs", "several")] })],
      }),
      second({ impression, sites: [site("vertex", { findings: [absent("exclamation-mark-hairs")] })] }),
    ).overall.activity;
    expect(activity).toContainEqual(
      expect.objectContaining({
        finding: "exclamation-mark-hairs",
        kind: "went",
        marks: "active",
        trend: "away",
        says: "Exclamation mark hairs, a marker of active disease: no longer seen.",
      }),
    );
  });

  test("regions looked at only once are named", () => {
    const step = change(
      first({ sites: [site("vertex"), site("nape")] }),
      second({ sites: [site("vertex"), site("frontal")] }),
    ).overall;
    expect([step.sitesOnlyBefore, step.sitesOnlyAfter]).toEqual([["nape"], ["frontal"]]);
  });
});

test("a change is plain data", () => {
  const c = change(
    first({ extent: { top: 10, back: 0, left: 0, right: 0 } }),
    second({ extent: { top: 5, back: 0, left: 0, right: 0 } }),
  );
  expect(JSON.parse(JSON.stringify(c))).toEqual(c);
});
