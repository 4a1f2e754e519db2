/**
 * `npm run evaluate`: what may be expected on visits never seen, first; then what it does on cases that were in view.
 * `-- FILE` or `-- ID` lists single cases; `-- --first-sight FILE` records a new round; `-- --name-rules` names rules anew;
 * `-- --learn` learns src/knowledge/lessons.yaml anew.
 */
import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Ablation } from "../../src/interpret/interpret.js";
import { NO_LESSONS } from "../../src/knowledge/lessons-schema.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Knowledge } from "../../src/knowledge/schema.js";
import { CROSSED, ranksDigest } from "./crossed.js";
import { byGroup, figuresOf, type Outcome, outcomeOf, shareOf, surpriseOf } from "./figures.js";
import { addRound, type Round, readRounds } from "./first-sight.js";
import { learn, lecturesOf, writeLessons } from "./learn.js";
import { nameRules, rulesForCases } from "./name-rules.js";
import { isOutside, readCases, readLessons, readOutside } from "./read-cases.js";
import { type CaseResult, runCase } from "./run-cases.js";
import { simulations } from "./simulations.js";

const SURE = ["supported", "strongly supported"];
const PARTS: readonly (readonly [string, Ablation])[] = [
  ["damping", { damping: false }],
  ["absence", { absence: false }],
  ["amounts", { amounts: false }],
  ["context", { context: false }],
  ["patterns", { patterns: false }],
  ["patterns and context", { context: false, patterns: false }],
];

const folder = join(process.cwd(), "tests", "cases");
const knowledge = loadKnowledge(join(process.cwd(), "src", "knowledge"));
const [flag, named] = process.argv.slice(2);
const newRound = flag === "--first-sight" ? named : undefined;
const all = readCases(folder, newRound);
const outside = readOutside(folder, newRound);
const published = all.filter((c) => c.grade !== "taught");
const written = rulesForCases(folder);
/** Published cases are scored in this many parts, each by lessons learned from the others. */
const PARTS_LEFT_OUT = 10;

if (flag === "--first-sight" && named) {
  const engine = execFileSync("git", ["rev-parse", "--short", "HEAD"], { encoding: "utf8" }).trim();
  const date = new Date().toISOString().slice(0, 10);
  const met = [...all, ...readLessons(folder), ...outside]
    .filter((c) => c.file === named)
    .map((c) => runCase(c, knowledge));
  addRound(folder, { file: named, date, engine }, met);
} else if (flag === "--name-rules") {
  nameRules(folder, published, knowledge);
} else if (flag === "--learn") {
  writeLessons(join(process.cwd(), "src", "knowledge"), learn(lectures()));
}

const only = flag?.startsWith("--") ? named : flag;
const lines = only
  ? [...all, ...outside]
      .filter((c) => c.file === only || c.id === only)
      .map((c) => caseLine(runCase(c, knowledge)))
  : kept(report());
process.stdout.write(`${lines.join("\n")}\n`);

/** Keeps the sections that the README quotes, with the state of the engine's answers that they belong to. */
function kept(lines: string[]): string[] {
  const section = (title: string) => {
    const from = lines.findIndex((line) => line.startsWith(title));
    return lines.slice(from, lines.indexOf("", from));
  };
  const sections = [...section("CROSS-VALIDATED"), ...section("OUTSIDE THE CATALOGUE")];
  writeFileSync(join(folder, CROSSED), `${[ranksDigest(folder), ...sections].join("\n")}\n`);
  return lines;
}

function lectures() {
  return lecturesOf([...all, ...readLessons(folder)], knowledge, written);
}

function report(): string[] {
  const taught = all.filter((c) => c.grade === "taught");
  const lessons = lectures();
  const parts = Array.from({ length: PARTS_LEFT_OUT }, (_, part) => {
    const leftOut = published.filter((_, i) => i % PARTS_LEFT_OUT === part);
    const learned = learn(lessons, new Set(leftOut.map((c) => c.id)));
    return { leftOut, unaware: { ...knowledge, lessons: learned } };
  });
  const crossed = parts.flatMap(({ leftOut, unaware }) =>
    leftOut.map((c) => {
      const without = written[c.id];
      return outcomeOf(runCase(c, unaware, without ? { without } : {}));
    }),
  );
  const missing = parts.flatMap(({ leftOut, unaware }) =>
    leftOut.filter((c) => c.confirmed.length === 1).map((c) => takenOut(c, unaware)),
  );
  const plainly = published.map((c) => outcomeOf(runCase(c, knowledge, { patterns: false, context: false })));
  const inView = published.map((c) => outcomeOf(runCase(c, knowledge)));
  const pictures = taught.map((c) => outcomeOf(runCase(c, knowledge)));
  return [
    ...readRounds(folder).flatMap((round) =>
      section(
        `FIRST SIGHT of ${round.file}, ${round.date}, engine ${round.engine}`,
        isOutside(round.file)
          ? [`a disorder supported all the same   ${sureOf(seenIn(round))}`]
          : figuresOf(Object.values(round.cases)),
      ),
    ),
    ...section(
      "CROSS-VALIDATED: each case without rules that may have been written for it and lessons learned from it",
      [
        ...figuresOf(crossed),
        "",
        ...byGroup(crossed, findingsOf),
        "",
        ...byGroup(crossed, (o) => o.confirmed.join(" + ")),
      ],
    ),
    ...section("PLAIN BASELINE: evidence and starting weights alone, without any pattern or context rule", [
      partLine("the same cases", plainly),
    ]),
    ...section("IN VIEW: the same cases with every rule", figuresOf(inView)),
    ...section("IN VIEW: taught pictures", figuresOf(pictures)),
    ...section("PARTS SWITCHED OFF, published cases in view", [
      partLine("nothing", inView),
      ...PARTS.map(([part, ablate]) =>
        partLine(
          part,
          published.map((c) => outcomeOf(runCase(c, knowledge, ablate))),
        ),
      ),
      partLine(
        "lessons",
        published.map((c) => outcomeOf(runCase(c, { ...knowledge, lessons: NO_LESSONS }))),
      ),
    ]),
    ...section("OUTSIDE THE CATALOGUE: a disorder supported all the same", [
      `published, and healthy    ${sureOf(outside.filter((c) => c.grade !== "taught").map((c) => runCase(c, knowledge)))}`,
      `pictures, and healthy     ${sureOf(outside.filter((c) => c.grade === "taught").map((c) => runCase(c, knowledge)))}`,
      `each disorder taken out   ${sureOf(missing)}`,
    ]),
    ...section("SIMULATED from published frequencies", simulations(knowledge)),
  ];
}

function section(title: string, body: readonly string[]): string[] {
  return [title, ...body.map((l) => (l === "" ? "" : `  ${l}`)), ""];
}

function findingsOf(o: Outcome): string {
  if (o.findings <= 1) return "0 or 1 finding";
  if (o.findings === 2) return "2 findings";
  return o.findings <= 4 ? "3 or 4 findings" : "5 findings or more";
}

function partLine(part: string, list: readonly Outcome[]): string {
  const lead = list.filter((o) => o.rank === 1).length;
  const three = list.filter((o) => o.rank <= 3).length;
  return `${part.padEnd(22)} leads ${lead}, among three ${three} of ${list.length}, surprise ${surpriseOf(list).toFixed(2)} bits`;
}

/** The case read by a catalogue that knows nothing of its disorder. */
function takenOut(c: (typeof all)[number], catalogue: Knowledge): CaseResult {
  const [id] = c.confirmed;
  const disorders = Object.fromEntries(Object.entries(catalogue.disorders).filter(([key]) => key !== id));
  return runCase(c, { ...catalogue, disorders });
}

function seenIn(round: Round): (Pick<CaseResult, "band" | "leading"> & { id: string })[] {
  return Object.entries(round.cases).map(([id, c]) => ({ ...c, id }));
}

function sureOf(results: readonly Pick<CaseResult, "id" | "band" | "leading">[]): string {
  const sure = results.filter((r) => SURE.includes(r.band));
  const names = sure.map((r) => `${r.id} as ${r.leading}`);
  return [shareOf(sure.length, results.length), ...names].join("\n    ");
}

function caseLine(r: CaseResult): string {
  const mark = r.rank === 1 ? " " : r.rank <= 3 ? "~" : "!";
  const missed = r.wanted && !r.mustNotMiss.includes(r.wanted) ? ` MISSING ${r.wanted}` : "";
  const second = r.second ? ` + ${r.second}` : "";
  const confirmed = r.rank === 1 ? "" : ` [${r.confirmed.join(", ")}: ${r.confirmedBand}]`;
  return `${mark}${r.id.padEnd(33)} ${(r.leading + second).padEnd(40)} ${r.band.padEnd(19)} ${r.leads.toFixed(2)}  ${String(r.rank).padStart(3)}  ${r.mustNotMiss.join(", ")}${missed}${confirmed}`;
}
