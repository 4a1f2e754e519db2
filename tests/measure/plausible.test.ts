/** Each planted slip is found, its corrected twin is not, and a sound visit raises nothing. */
import { describe, expect, test } from "vitest";
import { PLAUSIBLE_PROBLEMS } from "../../src/base/problem-table.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { measure } from "../../src/measure/index.js";
import { plausibility } from "../../src/measure/plausible.js";
import { AREA_OF } from "../../src/visit/areas.js";
import type { CountedField, Seen, Site, Visit } from "../../src/visit/visit.js";
import { site, visit } from "./visit-for-tests.js";

const knowledge = loadKnowledge();
const slips = (given: Partial<Visit>) => {
  const v = visit(given);
  return plausibility(v, measure(v, knowledge)).map((p) => p.id);
};

const patch = (lengthMm: number, widthMm: number, region: Site["site"] = "left parietal") => ({
  sites: [site(region, { patch: { lengthMm, widthMm } })],
});
const extent = (left: number) => ({ extent: { top: 0, left, right: 0, back: 0 } });
const counted = (fields: CountedField[], fieldDiameterMm = 9, given: Partial<Site> = {}) => ({
  scope: { fieldDiameterMm },
  sites: [site("vertex", { fields, ...given })],
});
const shafts = (...diametersUm: number[]) => ({ sites: [site("vertex", { diametersUm })] });
const dots = (seen: Seen, ...counts: number[]) => ({
  sites: [
    site("vertex", {
      findings: [{ finding: "yellow-dots", seen }],
      fields: counts.map((yellowDots) => ({ yellowDots })),
    }),
  ],
});
const history = (given: Partial<Visit["history"]>) => ({ history: { ...visit().history, ...given } });
const index = (lppai: Record<string, number>) => ({ scores: { lppai } });

const PLANTED: readonly [keyof typeof PLAUSIBLE_PROBLEMS, Partial<Visit>, Partial<Visit>][] = [
  ["extent-over-patches", { ...patch(25, 20), ...extent(40) }, { ...patch(25, 20), ...extent(4) }],
  ["extent-under-patches", { ...patch(90, 70), ...extent(4) }, { ...patch(90, 70), ...extent(40) }],
  ["extent-zero-with-patch", { ...patch(32, 25), ...extent(0) }, { ...patch(32, 25), ...extent(6) }],
  ["patch-over-area", patch(320, 250), patch(32, 25)],
  ["patch-tiny", patch(3.2, 2.5), patch(32, 25)],
  [
    "loss-with-full-density",
    { ...counted([{ hairs: 130 }]), extent: { top: 95, left: 0, right: 0, back: 0 } },
    { ...counted([{ hairs: 130 }]), extent: { top: 9, left: 0, right: 0, back: 0 } },
  ],
  [
    "bare-field-without-loss",
    { ...counted([{ hairs: 2 }]), extent: { top: 0, left: 0, right: 0, back: 0 } },
    { ...counted([{ hairs: 2 }]), extent: { top: 30, left: 0, right: 0, back: 0 } },
  ],
  [
    "units-against-hairs",
    counted([{ hairs: 84, units: { "1": 12, "2": 24, "3": 5 } }]),
    counted([{ hairs: 77, units: { "1": 12, "2": 24, "3": 5 } }]),
  ],
  ["density-too-high", counted([{ hairs: 130 }], 3), counted([{ hairs: 130 }], 9)],
  ["density-too-low", counted([{ hairs: 130 }], 90), counted([{ hairs: 130 }], 9)],
  [
    "hairs-per-unit-high",
    counted([{ units: { "24": 2, "12": 1 } }]),
    counted([{ units: { "2": 24, "1": 12 } }]),
  ],
  ["diameter-in-mm", shafts(0.061, 0.058, 0.044), shafts(61, 58, 44)],
  ["diameter-too-thick", shafts(61, 580, 44), shafts(61, 58, 44)],
  ["diameters-all-equal", shafts(...Array<number>(12).fill(55)), shafts(...Array<number>(11).fill(55), 57)],
  [
    "fields-identical",
    counted([
      { hairs: 84, thin: 9, vellus: 4 },
      { hairs: 84, thin: 9, vellus: 4 },
    ]),
    counted([
      { hairs: 84, thin: 9, vellus: 4 },
      { hairs: 81, thin: 9, vellus: 4 },
    ]),
  ],
  [
    "thin-shares-disagree",
    counted([{ hairs: 80, thin: 4 }], 9, { diametersUm: Array.from({ length: 40 }, (_, i) => 16 + i) }),
    counted([{ hairs: 80, thin: 20 }], 9, { diametersUm: Array.from({ length: 40 }, (_, i) => 16 + i) }),
  ],
  ["absent-but-counted", dots({ state: "absent" }, 3, 0), dots({ state: "absent" }, 0, 0)],
  [
    "seen-but-none-counted",
    dots({ state: "present", amount: "many" }, 0, 0),
    dots({ state: "present", amount: "many" }, 11, 12),
  ],
  [
    "counts-disagree",
    dots({ state: "present", amount: "many", count: { count: 30, fields: 1 } }, 3),
    dots({ state: "present", amount: "few", count: { count: 3, fields: 1 } }, 3),
  ],
  [
    "field-against-magnification",
    { scope: { fieldDiameterMm: 110, magnification: 20 } },
    { scope: { fieldDiameterMm: 11, magnification: 20 } },
  ],
  [
    "pull-against-shedding",
    { pullTest: [{ site: "vertex", pulled: 55, cameOut: 9 }], ...history({ shedding: "none" }) },
    { pullTest: [{ site: "vertex", pulled: 55, cameOut: 9 }], ...history({ shedding: "increased" }) },
  ],
  [
    "index-against-symptoms",
    { ...index({ pruritus: 0 }), ...history({ symptoms: { itch: 8 } }) },
    { ...index({ pruritus: 2 }), ...history({ symptoms: { itch: 8 } }) },
  ],
  [
    "index-against-pull",
    { ...index({ pull_test: 1 }), pullTest: [{ site: "vertex", pulled: 55, cameOut: 4, anagen: 0 }] },
    { ...index({ pull_test: 1 }), pullTest: [{ site: "vertex", pulled: 55, cameOut: 4, anagen: 3 }] },
  ],
  [
    "index-against-course",
    { ...index({ spreading: 0 }), ...history({ course: "spreading" }) },
    { ...index({ spreading: 2 }), ...history({ course: "spreading" }) },
  ],
  [
    "pluck-of-few",
    { scores: { trichogram: { anagen: 15, catagen: 0, telogen: 5, dystrophic: 0 } } },
    { scores: { trichogram: { anagen: 55, catagen: 0, telogen: 15, dystrophic: 0 } } },
  ],
  [
    "short-over-total",
    { scores: { "wash-test": { total: 60, short: 120 } } },
    { scores: { "wash-test": { total: 120, short: 60 } } },
  ],
  [
    "day-stands-out",
    { scores: { "comb-test": { day_1: 12, day_2: 120, day_3: 9 } } },
    { scores: { "comb-test": { day_1: 12, day_2: 12, day_3: 9 } } },
  ],
];

describe.each(PLANTED)("%s", (id, planted, corrected) => {
  test("is found where planted, and not when corrected", () => {
    expect(slips(planted)).toContain(id);
    expect(slips(corrected)).not.toContain(id);
  });
});

test("the usual few vellus hairs may be recorded as none, more may not", () => {
  const vellus = (count: number) => ({
    sites: [
      site("occipital", {
        findings: [{ finding: "vellus-hairs", seen: { state: "absent" as const } }],
        fields: [{ hairs: 80, vellus: count }],
      }),
    ],
  });
  expect(slips(vellus(4))).toEqual([]);
  expect(slips(vellus(20))).toEqual(["absent-but-counted"]);
});

test("areas of the scalp are those of the knowledge file", () => {
  expect(knowledge.scores["extent-from-patches"]).toMatchObject({ regions: AREA_OF });
});

test("every kind has its planted slip", () => {
  expect(PLANTED.map(([id]) => id).sort()).toEqual(Object.keys(PLAUSIBLE_PROBLEMS).sort());
});

test("a sound visit raises nothing", () => {
  const sound = {
    scope: { fieldDiameterMm: 11, magnification: 20 },
    extent: { top: 0, left: 5, right: 0, back: 0 },
    sites: [
      site("left parietal", {
        patch: { lengthMm: 32, widthMm: 25 },
        fields: [{ hairs: 77, thin: 9, vellus: 4, units: { "1": 12, "2": 24, "3": 5 }, yellowDots: 3 }],
        findings: [{ finding: "yellow-dots", seen: { state: "present", amount: "few" } }],
        diametersUm: [61, 58, 44, 28, 52],
      }),
    ],
    pullTest: [{ site: "left parietal" as const, pulled: 60, cameOut: 8, anagen: 2 }],
    ...history({ shedding: "increased" }),
  };
  expect(slips(sound)).toEqual([]);
});
