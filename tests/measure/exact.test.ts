/** Everything a small visit implies, line by line: what is measured, in which unit, from how many, and what each measure lacked. */
import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { compareVisits } from "../../src/measure/change/compare.js";
import { measure } from "../../src/measure/index.js";
import type { Measured, Measures } from "../../src/measure/types.js";
import type { Visit } from "../../src/visit/visit.js";
import { site, visit } from "./visit-for-tests.js";

const knowledge = loadKnowledge();

/** 60 diameters from 20 to 79 µm: 10 below 30, mean 49.5. */
const SHAFTS = Array.from({ length: 60 }, (_, i) => 20 + i);

const first = visit({
  id: "TS-1",
  date: "2026-01-15",
  scope: { magnification: 70, fieldDiameterMm: 8 },
  pullTest: [
    { site: "vertex", pulled: 55, cameOut: 7, anagen: 2 },
    { site: "occipital", pulled: 50, cameOut: 0 },
    { site: "frontal", pulled: 20, cameOut: 21 },
  ],
  extent: { top: 40, left: 10, right: 20, back: 5 },
  sites: [
    site("frontal", {
      patch: { lengthMm: 30, widthMm: 20 },
      diametersUm: SHAFTS,
      fields: [
        {
          hairs: 60,
          thin: 12,
          vellus: 6,
          units: { "1": 14, "2": 20, "3": 2 },
          yellowDots: 3,
          discolouredOpenings: 4,
        },
        {
          hairs: 52,
          thin: 9,
          vellus: 5,
          units: { "1": 12, "2": 17, "3": 2 },
          yellowDots: 1,
          discolouredOpenings: 2,
        },
      ],
    }),
    site("occipital", {
      diametersUm: SHAFTS.slice(10),
      fields: [
        {
          hairs: 90,
          thin: 6,
          vellus: 3,
          units: { "1": 9, "2": 30, "3": 7 },
          yellowDots: 0,
          discolouredOpenings: 1,
        },
      ],
    }),
    site("vertex", {
      findings: [
        {
          finding: "black-dots",
          seen: { state: "present", amount: "many", count: { count: 14, fields: 2 } },
        },
        { finding: "exclamation-mark-hairs", seen: { state: "present", amount: "few" } },
        { finding: "comma-hairs", seen: { state: "absent" } },
      ],
      fields: [{ hairs: 0, thin: 0 }],
    }),
    site("nape", { findings: [{ finding: "broken-hairs", seen: { state: "present", amount: null } }] }),
  ],
  scores: {
    "diameter-diversity": { thinner: 12, counted: 50 },
    "refined-wash-test": { day_1: 30, day_2: 42, day_3: 36 },
    "comb-test": { day_1: 9, day_2: 12 },
    "wash-test": { vellus: 12, total: 130 },
    "biopsy-terminal-vellus": { terminal: 20, vellus: 8 },
  },
});
const second: Visit = {
  ...first,
  id: "TS-2",
  date: "2026-07-15",
  scope: { magnification: 70, fieldDiameterMm: 7 },
  pullTest: [{ site: "vertex", pulled: 60, cameOut: 1 }],
  extent: { top: 20, left: 10, right: 10, back: 5 },
  sites: [
    site("frontal", {
      diametersUm: SHAFTS.map((um) => um + 4),
      fields: [
        { hairs: 70, thin: 7, vellus: 6 },
        { hairs: 66, thin: 6, vellus: 5 },
      ],
    }),
    site("vertex", {
      findings: [
        { finding: "black-dots", seen: { state: "present", amount: "few", count: { count: 2, fields: 2 } } },
        { finding: "exclamation-mark-hairs", seen: { state: "absent" } },
        { finding: "comma-hairs", seen: { state: "absent" } },
        { finding: "yellow-dots", seen: { state: "present", amount: "few" } },
      ],
    }),
  ],
  scores: {},
};

const figure = (x: number | undefined) => (x === undefined ? "" : Number(x.toFixed(3)).toString());
const line = (m: Measured) =>
  [
    `${m.id}${m.site ? ` at ${m.site} (${m.siteIndex ?? "-"})` : ""}: ${figure(m.value)} ${m.unit} [${m.ucum}], ${m.places} places`,
    m.low === undefined && m.high === undefined ? "" : `${figure(m.low)} to ${figure(m.high)} by ${m.method}`,
    m.n === undefined ? "" : `n ${m.n}`,
    m.band ?? "",
    m.normal ? `${m.normal.position} ${figure(m.normal.low)}-${figure(m.normal.high)} ${m.normal.group}` : "",
    m.fromMemory ? "from memory" : "",
  ]
    .filter((part) => part !== "")
    .join("; ");
const told = ({ measured, notMeasured, rules }: Measures) => [
  ...measured.map(line),
  ...notMeasured.map(
    (n) => `no ${n.id}${n.site ? ` at ${n.site} (${n.siteIndex ?? "-"})` : ""}: ${n.missing}`,
  ),
  ...rules.flatMap((r) => [
    `rule ${r.id}${r.site ? ` at ${r.site}` : ""}: ${r.met}; ${r.says}`,
    ...r.criteria.map((c) => `  ${c.id} ${c.kind} ${c.met}: ${c.says}; ${c.worked}`),
  ]),
];

/** `ACCEPT=1` writes the file anew; a person reads the difference. */
function holdsFor(name: string, found: readonly string[]): void {
  const file = join(inPackage("tests", "measure", "exact"), `${name}.txt`);
  const lines = found.map((text) => text.trimEnd());
  if (process.env.ACCEPT) writeFileSync(file, `${lines.join("\n")}\n`);
  expect(lines).toEqual(readFileSync(file, "utf8").trimEnd().split("\n"));
}

describe("a small visit", () => {
  test("is measured exactly so", () => {
    holdsFor("one-visit", told(measure(first, knowledge)));
  });
});

describe("two small visits", () => {
  const { value, problems } = compareVisits([second, first], knowledge);
  const step = value?.overall;

  test("change exactly so", () => {
    const lines = [
      `${value?.visits.map((v) => `${v.visit} ${v.date}`).join(", ")}; ${step?.days} days`,
      ...(step?.measures ?? []).map((m) =>
        [
          `${m.says} ${figure(m.difference)} ${m.differenceUnit}, ${m.direction}, nth ${m.nth}`,
          m.effect
            ? `${figure(m.effect.value)} (${figure(m.effect.low)} to ${m.effect.high === null ? "open" : figure(m.effect.high)}) ${m.effect.unit} by ${m.effect.method}`
            : "",
          m.p === undefined ? "" : `p ${m.p.toFixed(4)}`,
          m.spread ? `spread ${m.spread}, smallest ${m.smallest}` : "",
          m.needed ? `needs ${m.needed.fields} for ${m.needed.factor}` : "",
          m.notes?.join(" ") ?? "",
        ]
          .filter((part) => part !== "")
          .join("; "),
      ),
      ...(step?.notCompared ?? []).map((n) => `not compared ${n.id} ${n.site ?? ""} ${n.why} ${n.on ?? ""}`),
      ...(step?.findings ?? []).map(
        (f) =>
          `${f.finding} at ${f.site} ${f.nth}: ${f.kind}${f.p === undefined ? "" : `, p ${f.p.toFixed(4)}`} ${f.note ?? ""}`,
      ),
      `only before ${step?.sitesOnlyBefore.join()}; only after ${step?.sitesOnlyAfter.join()}`,
      ...(step?.responses ?? []).map(
        (r) =>
          `${r.id} ${r.before} ${r.after} ${figure(r.percentFall ?? undefined)}: ${r.thresholds.map((t) => `${t.id} ${t.met}`).join(", ")}`,
      ),
      ...(step?.activity ?? []).map(
        (a) => `${a.disorder} ${a.finding} ${a.kind} ${a.marks} ${a.trend}: ${a.says}`,
      ),
      ...problems.map((p) => `${p.severity} ${p.id}: ${p.message}`),
    ];
    holdsFor("two-visits", lines);
  });
});
