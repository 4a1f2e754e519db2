/** Values that lie on a bound, and one step beside it. */
import { describe, expect, test } from "vitest";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Normal } from "../../src/knowledge/normals-schema.js";
import { compareVisits } from "../../src/measure/change/compare.js";
import { regionCounts } from "../../src/measure/front-and-back.js";
import { measure } from "../../src/measure/index.js";
import { withNormal } from "../../src/measure/normals.js";
import { plausibility } from "../../src/measure/plausible.js";
import { publishedTimes } from "../../src/measure/statistics/spread.js";
import { smallestFall } from "../../src/measure/statistics/two-counts.js";
import type { Measured } from "../../src/measure/types.js";
import type { Visit } from "../../src/visit/visit.js";
import { site, visit } from "./visit-for-tests.js";

const knowledge = loadKnowledge();
const of = (given: Partial<Visit>) => measure(visit(given), knowledge);
const value = (given: Partial<Visit>, id: string) => of(given).measured.find((m) => m.id === id)?.value;

describe("a published range", () => {
  const range = (given: Partial<Normal>): Normal => ({
    measure: "strands",
    group: "thirty islanders",
    source: "from memory",
    how: "memory",
    ...given,
  });
  const measured = (at: number): Measured => ({
    id: "strands",
    term: "Strands",
    value: at,
    unit: "",
    ucum: "1",
    places: 0,
    source: "from memory",
    fromMemory: true,
  });
  const position = (normal: Partial<Normal>, at: number, born = "1990-01-01") =>
    withNormal(measured(at), visit({ date: "2026-01-01", patient: { ...visit().patient, born } }), [
      range(normal),
    ]).normal?.position;

  test("holds for the youngest and the oldest of those studied, and for nobody a year beside them", () => {
    const aged = (years: number) => position({ age: [20, 40], at_most: 9 }, 5, `${2026 - years}-01-01`);
    expect([19, 20, 40, 41].map(aged)).toEqual([undefined, "within", "within", undefined]);
  });

  test("takes in its own ends, unless it says above or below them", () => {
    expect([9, 10, 11].map((at) => position({ at_least: 10 }, at))).toEqual(["below", "within", "within"]);
    expect([9, 10, 11].map((at) => position({ above: 10 }, at))).toEqual(["below", "below", "within"]);
    expect([9, 10, 11].map((at) => position({ at_most: 10 }, at))).toEqual(["within", "within", "above"]);
    expect([9, 10, 11].map((at) => position({ below: 10 }, at))).toEqual(["within", "above", "above"]);
  });

  test("of mean and spread reaches two standard deviations to either side, ends taken in", () => {
    const usual = { mean: [100, 120] as [number, number], sd: 10 };
    expect([79, 80, 140, 141].map((at) => position(usual, at))).toEqual([
      "below",
      "within",
      "within",
      "above",
    ]);
  });
});

describe("an area of its own", () => {
  const fields = [{ hairs: 60, areaMm2: 25 }, { hairs: 40 }];

  test("is in square millimetres: 60 hairs on 25 of them are 240 to the square centimetre", () => {
    expect(value({ sites: [site("vertex", { fields: fields.slice(0, 1) })] }, "hair-density")).toBeCloseTo(
      240,
      9,
    );
  });

  test("is added to the whole fields of view beside it", () => {
    // A whole field 10 mm across has 25 pi square millimetres.
    const density = value(
      { scope: { fieldDiameterMm: 10 }, sites: [site("vertex", { fields })] },
      "hair-density",
    );
    expect(density).toBeCloseTo(100 / (0.25 + 0.25 * Math.PI), 9);
  });
});

test("a shaft of 30 µm is no longer thin", () => {
  const counts = regionCounts(
    visit({ sites: [site("frontal", { diametersUm: [29, 29.9, 30, 31] })] }),
    "frontal",
  );
  expect(counts.thinByDiameter).toEqual({ part: 2, of: 4 });
});

test("the smallest fall two visits can show is that of the fewer fields", () => {
  const counted = (hairs: number, fields: number) => ({
    scope: { fieldDiameterMm: 5 },
    sites: [site("vertex", { fields: Array.from({ length: fields }, () => ({ hairs })) })],
  });
  const { value: change } = compareVisits(
    [
      visit({ id: "TS-1", date: "2026-01-15", ...counted(60, 1) }),
      visit({ id: "TS-2", date: "2026-04-15", ...counted(60, 2) }),
    ],
    knowledge,
  );
  const density = change?.overall.measures.find((m) => m.id === "hair-density");
  expect(density?.spread).toBe("published");
  const times = publishedTimes(60, { clumping: 2.2, cv_percent: 9.8 });
  expect(density?.smallest).toBe(smallestFall({ perField: 60, fields: 1, times }));
  expect(density?.smallest).toBeGreaterThan(smallestFall({ perField: 60, fields: 2, times }) ?? 0);
});

test("patches five points over the recorded loss are asked about, a little less is not", () => {
  const asked = (widthMm: number) => {
    const given = visit({
      extent: { top: 0, left: 1, right: 0, back: 0 },
      sites: [site("left parietal", { patch: { lengthMm: 40, widthMm } })],
    });
    return plausibility(given, measure(given, knowledge)).map((p) => p.id);
  };
  // At the most, 800 cm2 of scalp and 18 % of them for a side: 27.5 mm wide is 6.0 % of it, against 1 % recorded.
  expect(asked(27.8)).toEqual(["extent-under-patches"]);
  expect(asked(27.2)).toEqual([]);
});

test("a bundle is of the rules from 50 to 60 hairs", () => {
  const caveat = (pulled: number) =>
    of({ pullTest: [{ site: "vertex", pulled, cameOut: 3 }] }).measured.find((m) => m.id === "hair-pull")
      ?.caveat;
  const outside = (pulled: number) => `This bundle of ${pulled} lies outside the 50 to 60 of the rules.`;
  expect([49, 50, 60, 61].map(caveat)).toEqual([outside(49), undefined, undefined, outside(61)]);
});
