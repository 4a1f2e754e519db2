/** `npm run evaluate`: the engine on the published cases, then on the taught pictures, whole and with each part switched off. */
import { execFileSync } from "node:child_process";
import { join } from "node:path";
import type { Ablation } from "../../src/interpret/interpret.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { addRound } from "./first-sight.js";
import { readCases } from "./read-cases.js";
import { type CaseResult, runCase, type Totals, totalsOf } from "./run-cases.js";

const PARTS: readonly (readonly [string, Ablation])[] = [
  ["whole engine", {}],
  ["no damping", { damping: false }],
  ["no absence", { absence: false }],
  ["no amounts", { amounts: false }],
  ["no context", { context: false }],
  ["no patterns", { patterns: false }],
];

const folder = join(process.cwd(), "tests", "cases");
const [flag, named] = process.argv.slice(2);
const only = flag === "--first-sight" ? named : flag;
const knowledge = loadKnowledge(join(process.cwd(), "src", "knowledge"));
const cases = readCases(folder).filter((c) => !only || c.file === only || c.id === only);
const lines: string[] = [];

if (flag === "--first-sight" && named) {
  const engine = execFileSync("git", ["rev-parse", "--short", "HEAD"], { encoding: "utf8" }).trim();
  const date = new Date().toISOString().slice(0, 10);
  addRound(
    folder,
    { file: named, date, engine },
    cases.map((c) => runCase(c, knowledge)),
  );
}

const groups = [
  { name: "Published cases", cases: cases.filter((c) => c.grade !== "taught") },
  { name: "Taught pictures", cases: cases.filter((c) => c.grade === "taught") },
].filter((g) => g.cases.length > 0);
for (const group of groups) lines.push(...report(group.name, group.cases), "");
process.stdout.write(lines.join("\n"));

function report(name: string, listed: typeof cases): string[] {
  const results = listed.map((c) => runCase(c, knowledge));
  const head = `${name.padEnd(34)} ${"leading".padEnd(40)} ${"band".padEnd(19)} leads rank  must not miss`;
  const totals = PARTS.map(([part, ablate]) =>
    totalsLine(
      part,
      totalsOf(
        part === "whole engine" ? results : listed.map((c) => runCase(c, knowledge, ablate)),
        knowledge,
      ),
    ),
  );
  const calibration = Object.entries(totalsOf(results, knowledge).calibration).map(
    ([band, { cases: n, right }]) => `  ${band.padEnd(20)} ${right} of ${n}`,
  );
  return [
    head,
    ...results.map(caseLine),
    "",
    ...totals,
    "",
    "When the leading band is ... it is right:",
    ...calibration,
  ];
}

function caseLine(r: CaseResult): string {
  const mark = r.rank === 1 ? " " : r.rank <= 3 ? "~" : "!";
  const missed = r.wanted && !r.mustNotMiss.includes(r.wanted) ? ` MISSING ${r.wanted}` : "";
  const second = r.second ? ` + ${r.second}` : "";
  const confirmed = r.rank === 1 ? "" : ` [${r.confirmed.join(", ")}: ${r.confirmedBand}]`;
  return `${mark}${r.id.padEnd(33)} ${(r.leading + second).padEnd(40)} ${r.band.padEnd(19)} ${r.leads.toFixed(2)}  ${String(r.rank).padStart(3)}  ${r.mustNotMiss.join(", ")}${missed}${confirmed}`;
}

function strongly(t: Totals): string {
  const strong = t.calibration["strongly supported"];
  return strong ? `${strong.right}/${strong.cases}` : "-";
}

function totalsLine(name: string, t: Totals): string {
  const percent = (n: number, of: number) =>
    of === 0 ? "-" : `${n}/${of} (${Math.round((100 * n) / of)} %)`;
  return [
    name.padEnd(14),
    `top-1 ${percent(t.top1, t.cases)}`,
    `top-3 ${percent(t.top3, t.cases)}`,
    `scarring called unlikely ${t.scarringUnlikely}/${t.scarring}`,
    `must-not-miss ${t.raised}/${t.wanted}`,
    `strongly supported right ${strongly(t)}`,
    `surprise ${t.surprise.toFixed(2)} bits`,
  ].join("   ");
}
