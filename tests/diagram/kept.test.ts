/**
 * Small drawings kept element by element, and pictograms and heads by fingerprint: a line that moves is seen. What differs on purpose is
 * looked at, then kept anew with `vitest run tests/diagram/kept.test.ts -u`.
 */
import { describe, expect, it } from "vitest";
import { barPair, rangeBar } from "../../src/diagram/chart/range-bar.js";
import { sharesChart } from "../../src/diagram/chart/shares.js";
import { type TrendInput, trendChart } from "../../src/diagram/chart/trend.js";
import {
  ENGLISH_MAP_WORDS,
  ENGLISH_PLAIN_MAP_WORDS,
  gradeDrawing,
  PICTOGRAM_IDS,
  pictogram,
  scalpMap,
} from "../../src/diagram/diagram.js";
import { VIEWS } from "../../src/diagram/head/head-view.js";
import type { ScalpMapInput } from "../../src/diagram/scalp-map.js";
import type { Patch } from "../../src/visit/visit.js";
import { asLines, fingerprint } from "./as-lines.js";
import { site } from "./site.js";

interface Named {
  readonly [name: string]: { readonly svg: string; readonly alt: string };
}

async function keeps(file: string, drawings: Named): Promise<void> {
  const told = Object.entries(drawings).map(([name, { svg, alt }]) => `# ${name}\n${alt}\n${asLines(svg)}\n`);
  await expect(told.join("\n")).toMatchFileSnapshot(`kept/${file}.txt`);
}

const trend = (points: TrendInput["points"], more: Partial<TrendInput> = {}) =>
  trendChart({ title: "Density", unit: "/cm²", points, ...more });
const [march, june, july] = [
  { label: "1 March", date: "2026-03-01", value: 6.3, low: 5, high: 8 },
  { label: "1 June", date: "2026-06-01", value: 7 },
  { label: "2 July", date: "2026-07-02", value: 2 },
];

describe("charts", () => {
  it("of one value and of two", async () => {
    const measured = { label: "Thin hairs", value: 30, low: 20, high: 40 };
    const normal = { low: 10, high: 50, label: "Normal" };
    await keeps("bars", {
      "between two limits": rangeBar({ measured, unit: "%", normal }),
      "one limit, least size": rangeBar({
        measured: { label: "Density", value: 30 },
        unit: "/cm²",
        normal: { low: 20, label: "Normal" },
        width: 50,
        height: 10,
      }),
      "upper limit": rangeBar({ measured, unit: "%", normal: { high: 35, label: "Normal" } }),
      "a pair with intervals, one below zero": barPair({
        title: "Front and back",
        unit: "/cm²",
        pair: [
          { label: "front", value: 50, low: 40, high: 60 },
          { label: "back", value: -20 },
        ],
      }),
      "a pair with long names, least size": barPair({
        title: "Front and back",
        unit: "per square centimetre",
        pair: [
          { label: "frontal hairline on the left", value: 0 },
          { label: "occipital", value: Number.NaN, low: 1, high: 2 },
        ],
        width: 60,
        height: 10,
      }),
    });
  });

  it("of shares", async () => {
    const marks = [
      { share: 0.5, low: 0.25, high: 0.75, says: "5 of 10" },
      { share: 1, low: 0.7, high: 1, says: "10 of 10" },
    ] as const;
    const names = ["engine", "clinician"] as const;
    await keeps("shares", {
      "two rows": sharesChart({
        title: "Right",
        names,
        rows: [
          { label: "scarring", marks },
          { label: "hair loss without any scar at all", marks },
        ],
        width: 300,
      }),
      "no row": sharesChart({ title: "Right", names, rows: [] }),
    });
  });

  it("of values over time", async () => {
    const six = [1, 2, 3, 4, 5, 6].map((n) => ({
      label: `visit ${n}`,
      value: n * 10,
      low: n * 10 - 5,
      high: n * 10 + 5,
    }));
    await keeps("trends", {
      "band, limit, interval": trend([march, june], {
        normal: { low: 4, high: 8, label: "Usual" },
        threshold: { value: 5, label: "Limit" },
      }),
      "falling towards the limit": trend([june, march, july].toReversed(), {
        threshold: { value: 6.5, label: "Limit" },
        unit: "",
      }),
      "far from nought, a name that just does not fit": trend(
        [
          { label: "a", value: 80 },
          { label: "b", value: 95 },
        ],
        { normal: { low: 85, label: "n".repeat(46) } },
      ),
      "under the limit at once": trend(
        [
          { label: "a", value: 9.8 },
          { label: "b", value: 3.5 },
        ],
        {
          threshold: {
            value: 10,
            label: "A limit whose name is far too long for the width of so small a chart",
          },
        },
      ),
      "open bands": trend([march], {
        normal: { high: 8, label: "A band whose name is too long for so small a chart by far" },
      }),
      "lower end": trend([july], { normal: { low: 3, label: "Usual" }, scale: [20], width: 10, height: 10 }),
      crowd: trend(six, {
        unit: "",
        width: 120,
        height: 80,
        title: "Count of broken hairs in one field of view",
      }),
      "five far apart": trend(six.slice(1), { title: "Count" }),
      none: trend([{ label: "a", value: Number.NaN }]),
    });
  });
});

const patch = (lengthMm: number, widthMm: number, margin?: Patch["margin"]): Patch => ({
  lengthMm,
  widthMm,
  ...(margin ? { margin } : {}),
});
const map = (input: Omit<ScalpMapInput, "words">) =>
  scalpMap({ ...input, words: input.style === "plain" ? ENGLISH_PLAIN_MAP_WORDS : ENGLISH_MAP_WORDS });

describe("maps", () => {
  it("with sites and patches", async () => {
    await keeps("maps-of-sites", {
      "one patch": map({ sites: [site("left parietal", patch(24, 12.5, "sharp"), { x: 0.5, y: 0.25 })] }),
      "two kinds of edge, narrow": map({
        sites: [
          site("vertex", patch(30, 30, "blurred")),
          site("left temporal", patch(60, 90, "sharp"), { x: 0, y: 1 }),
          site("left temporal"),
        ],
        width: 240,
      }),
      "a child's, for the patient": map({
        sites: [site("occipital", patch(20, 10, "blurred")), site("nape"), site("left eyebrow")],
        style: "plain",
        ageYears: 6,
      }),
      "the whole scalp, and six of one region": map({
        sites: [site("whole scalp"), ...Array.from({ length: 6 }, () => site("frontal"))],
        textSize: 18,
      }),
      "a small patch before a large one, cut at the margin, and one of no place": map({
        sites: [
          site("left temporal", patch(10, 10), { x: 0.2, y: 0.5 }),
          site("left temporal", patch(80, 60), { x: 0.2, y: 0.5 }),
          site("whole scalp", patch(20, 20)),
        ],
        key: false,
      }),
      "without a key": map({
        sites: [site("right eyebrow"), site("right parietal", patch(5, 5))],
        key: false,
      }),
    });
  });

  it("with hair lost", async () => {
    const sites = [site("vertex")];
    await keeps("maps-of-loss", {
      "three areas without": map({ sites, extent: { top: 40, left: 0, right: 0, back: 0 } }),
      "not all estimated, beside the heads": map({ sites, extent: { top: 12.34, back: 100 }, width: 330 }),
      "two rows": map({ sites, extent: { top: 12.34, back: 100 }, views: VIEWS, width: 440 }),
      "in one line below": map({ sites, extent: { top: 12.34, left: 5, right: 60, back: 100 }, width: 440 }),
      "for the patient": map({ sites: [], extent: { left: 60, right: 25 }, style: "plain", width: 300 }),
      "none anywhere": map({ sites, extent: { top: 0, left: 0, right: 0, back: 0 }, width: 140 }),
    });
  });

  it("of nobody's scalp, at several ages", async () => {
    const ages = [0, 1, 6, 12, 18].map(
      (ageYears) => `${ageYears} ${fingerprint(map({ sites: [], views: VIEWS, ageYears }).svg)}`,
    );
    expect(ages.join("\n")).toMatchInlineSnapshot(`
      "0 d13fedd993
      1 3165ca45f5
      6 852f90bab6
      12 935adb1000
      18 e1fb683d66"
    `);
  });
});

it("pictograms and grades", async () => {
  const tones = ["light", "medium", "dark"] as const;
  const groups = ["hair shaft", "follicular opening", "skin surface", "vessel"] as const;
  const grades = [
    ...[1, 2, 3].map((grade) => ["ludwig", { grade }] as const),
    ...[1, 2, 3, 4, 5, 6, 7].map((stage) => ["hamilton-norwood", { stage }] as const),
    ...[2, 3, 4, 5].map((stage) => ["hamilton-norwood", { stage, form: 2 }] as const),
    ["hamilton-norwood", { stage: 3, form: 1 }] as const,
  ];
  const of = (svg: string | undefined) => fingerprint(svg ?? "");
  const told = [
    ...PICTOGRAM_IDS.map((id) => `${id} ${tones.map((t) => of(pictogram(id, "x", undefined, t))).join(" ")}`),
    ...groups.map((group) => `any ${group} ${of(pictogram("moonlit-hairs", "x", group))}`),
    ...grades.map(([id, inputs]) => `${id} ${JSON.stringify(inputs)} ${of(gradeDrawing(id, inputs, "x"))}`),
  ];
  await expect(`${told.join("\n")}\n`).toMatchFileSnapshot("kept/pictograms.txt");
});
