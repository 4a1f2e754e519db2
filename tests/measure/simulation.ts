/** How often limits hold their truth, and how often change is called on scalps that never changed: in percent of so many rounds. */
import { loadKnowledge } from "../../src/knowledge/load.js";
import { compareVisits } from "../../src/measure/change/compare.js";
import { measure } from "../../src/measure/index.js";
import { fieldAreaCm2 } from "../../src/measure/statistics/counting.js";
import { counter, OF_UNITS, SCALPS, type Scalp, TRUTH } from "./scalps.js";
import { site, visit } from "./visit-for-tests.js";

const knowledge = loadKnowledge();
const FIELD_MM = 9;

/** Percent of rounds, by measure and plan. */
export type Rates = Readonly<Record<string, number>>;

/** Coverage of every interval: a whole visit measured, with so many fields in front and behind, each of `mean` hairs. */
export function coverage(fields: number, mean: number, scalpName: string, rounds: number): Rates {
  const scalp = SCALPS[scalpName] ?? { units: false, spots: false };
  const draw = counter(`coverage ${fields} ${mean} ${scalpName}`);
  const area = fieldAreaCm2(FIELD_MM);
  const cv = 0.28;
  const truth: Record<string, number> = {
    "hair-density": mean / area,
    "thin-share": 100 * TRUTH.thin,
    "vellus-share": 100 * TRUTH.vellus,
    "terminal-vellus": (1 - TRUTH.thin) / TRUTH.vellus,
    "single-unit-share": 100 * TRUTH.single,
    "hairs-per-unit": TRUTH.perUnit,
    "yellow-dots-per-field": 3,
    "yellow-dots-four-fields": 12,
    "black-dots-per-field": 4,
    "discoloured-openings": 100 * TRUTH.discoloured,
    "shaft-diameter": 55,
    "shaft-diameter-sd": 55 * cv,
    "shaft-diameter-cv": 100 * cv,
    "ratio-density": 1,
    "ratio-vellus": 1,
    "ratio-discoloured": 1,
    "ratio-thin": 1,
    "ratio-single-units": 1,
    "ratio-thickness": 1,
    "hair-pull": 6,
    "refined-wash-test": 60,
    "comb-test": 12,
    "wash-test": 15,
    "trichogram-telogen": 18,
  };
  const held = new Map<string, number>();
  const made = new Map<string, number>();
  for (let i = 0; i < rounds; i++) {
    const shafts = () => Array.from({ length: 60 }, () => 55 * (1 + cv * draw.normal()));
    const place = (region: "frontal" | "occipital") =>
      site(region, {
        fields: Array.from({ length: fields }, () => draw.field(mean, scalp)),
        diametersUm: shafts(),
        findings: [
          {
            finding: "black-dots",
            seen: {
              state: "present",
              amount: "many",
              count: {
                count: sum(Array.from({ length: fields }, () => draw.poisson(draw.spot(4, scalp)))),
                fields,
              },
            },
          },
        ],
      });
    const day = (hairs: number) => draw.poisson(draw.spot(hairs, scalp));
    const telogen = draw.binomial(80, 0.18);
    const shed = draw.poisson(120);
    const { measured } = measure(
      visit({
        scope: { fieldDiameterMm: FIELD_MM, magnification: 70 },
        pullTest: [{ site: "vertex", pulled: 55, cameOut: draw.binomial(55, 0.06) }],
        sites: [place("frontal"), place("occipital")],
        scores: {
          "refined-wash-test": { day_1: day(60), day_2: day(60), day_3: day(60) },
          "comb-test": { day_1: day(12), day_2: day(12), day_3: day(12) },
          "wash-test": { total: shed, short: draw.binomial(shed, 0.15) },
          trichogram: { anagen: 80 - telogen, catagen: 0, telogen, dystrophic: 0 },
        },
      }),
      knowledge,
    );
    for (const { id, low, high } of measured) {
      const t = truth[id];
      if (t === undefined || low === undefined || isSettled(id, scalp)) continue;
      made.set(id, (made.get(id) ?? 0) + 1);
      if (low <= t && t <= (high ?? Number.POSITIVE_INFINITY)) held.set(id, (held.get(id) ?? 0) + 1);
    }
  }
  return Object.fromEntries([...made].map(([id, n]) => [id, (100 * (held.get(id) ?? 0)) / n]));
}

/** Calls of change on a scalp that did not change, by measure: two whole visits compared. */
export function falseCalls(fields: number, mean: number, scalpName: string, rounds: number): Rates {
  const scalp = SCALPS[scalpName] ?? { units: false, spots: false };
  const draw = counter(`calls ${fields} ${mean} ${scalpName}`);
  const called = new Map<string, number>();
  for (let i = 0; i < rounds; i++) {
    const at = (id: string, date: string) =>
      visit({
        id,
        date,
        scope: { fieldDiameterMm: FIELD_MM },
        pullTest: [{ site: "vertex", pulled: 55, cameOut: draw.binomial(55, 0.06) }],
        sites: [
          site("vertex", {
            fields: Array.from({ length: fields }, () => draw.field(mean, scalp)),
            diametersUm: Array.from({ length: 60 }, () => 55 + 15 * draw.normal()),
          }),
        ],
      });
    const { value } = compareVisits([at("TS-1", "2026-01-15"), at("TS-2", "2026-04-15")], knowledge);
    for (const { id, verdict } of value?.overall.measures ?? []) {
      if (verdict === null || isSettled(id, scalp)) continue;
      called.set(id, (called.get(id) ?? 0) + (verdict === "more than counting error" ? 1 : 0));
    }
  }
  return Object.fromEntries([...called].map(([id, n]) => [id, (100 * n) / rounds]));
}

const isSettled = (id: string, { units }: Scalp) => !units && OF_UNITS.includes(id);
const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
