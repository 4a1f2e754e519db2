/**
 * `npm run bench -- [--visits N] [--memory] [--only PARTS] [--gate] [--keep]`: what letters cost on this machine, all in one run on the same kind of
 * invented visits. Batches are run as a user runs them; ways of setting a letter are measured warm, one after the other.
 */
import { mkdtempSync, rmSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { parseArgs } from "node:util";
import type { Letter } from "../../src/letter/document.js";
import { renderPdf } from "../../src/page/pdf.js";
import type { ShapedWords } from "./bare-document.js";
import { type BatchRun, measureBatch } from "./batches.js";
import { browserEachTime, browserMissing, warmBrowser } from "./browser.js";
import type { Trace } from "./calls.js";
import { type ColdStart, coldStarts, startTable } from "./cold-starts.js";
import { type Contestant, contest, type Standing } from "./contest.js";
import { drawFloor } from "./floor.js";
import { freshVisits } from "./fresh-visits.js";
import { gateTable, gauged, gauges, isShut, judged, keep, keptRatios, reference } from "./gate.js";
import { goals } from "./goals.js";
import { lettersOf } from "./letters.js";
import { batchTable, goalTable, standingTable, table } from "./table.js";
import { traceLetter } from "./trace.js";
import { TYPESETTER_MISSING, typesetter } from "./typesetter.js";

const PARTS = ["batches", "letters", "memory", "start"] as const;

/** As many as there are examples, so that every round has the same shapes of letters. */
const VISITS_A_ROUND = 18;
const ROUNDS = 6;
const WARM_UP = 2;
const MEMORY_VISITS = [100, 500, 1000];
const MEMORY_VISITS_IF_ASKED = 5000;

function say(text: string): void {
  process.stderr.write(`${text}\n`);
}

async function batches(
  counts: readonly number[],
  hands: readonly number[],
  scratch: string,
): Promise<BatchRun[]> {
  const runs: BatchRun[] = [];
  for (const visits of counts) {
    const source = freshVisits(join(scratch, `visits-${visits}`), visits).folder;
    for (const proof of [true, false]) {
      for (const workers of hands) {
        say(`batch of ${visits} visits, ${workers} at once, ${proof ? "proofed" : "not proofed"}`);
        runs.push(await measureBatch({ source, visits, workers, proof }, join(scratch, "out")));
      }
    }
    rmSync(source, { recursive: true });
  }
  return runs;
}

const OURS: Contestant = {
  what: "the page room alone (HTML to PDF, tagged)",
  prepare: async (letter) => async () => {
    const { value } = await renderPdf(letter);
    if (!value) throw new Error("a letter could not be rendered");
    return value.bytes;
  },
};

const traces = new WeakMap<Letter, Trace>();

async function traceOf(letter: Letter): Promise<Trace> {
  const trace = traces.get(letter) ?? (await traceLetter(letter));
  traces.set(letter, trace);
  return trace;
}

function floor(tagged: boolean): Contestant {
  const shaped: ShapedWords = new Map();
  return {
    what: `the floor: stock pdfkit drawing the same pages by hand, fonts parsed before, ${tagged ? "tagged" : "untagged"}`,
    prepare: async (letter) => {
      const trace = await traceOf(letter);
      return () => drawFloor(trace, { tagged, shaped });
    },
  };
}

interface Contested {
  readonly standings: readonly Standing[];
  readonly ours: Standing | undefined;
  readonly floor: Standing | undefined;
  readonly typesetter: Standing | undefined;
  readonly browser: Standing | undefined;
  readonly notes: readonly string[];
}

/** Throws when the floor does not draw the words of every page that we draw. */
function checkSame(ours: Standing, other: Standing): void {
  const differing = ours.read.filter((page, i) => page.join(" ") !== other.read[i]?.join(" ")).length;
  if (differing > 0 || ours.pages !== other.pages)
    throw new Error(`${other.what}: the words of ${differing} of ${ours.pages} pages are not ours`);
}

async function setLetters(scratch: string): Promise<Contested> {
  say("composing letters");
  const { folder, files } = freshVisits(join(scratch, "letters"), VISITS_A_ROUND * ROUNDS);
  const rounds: Letter[][] = [];
  for (let round = 0; round < ROUNDS; round += 1)
    rounds.push(await lettersOf(folder, files.slice(round * VISITS_A_ROUND, (round + 1) * VISITS_A_ROUND)));
  const notes: string[] = [];
  const noBrowser = browserMissing();
  if (noBrowser) notes.push(`Chromium was not measured: ${noBrowser}.`);
  const browser = noBrowser ? undefined : await warmBrowser(scratch);
  const typst = await typesetter(scratch);
  if (!typst) notes.push(`Typst was not measured: ${TYPESETTER_MISSING}.`);
  // Ours first: tracing for the floor sets the letters with our engine.
  const contestants = [OURS, floor(false), floor(true), typst, browser].filter((c) => c !== undefined);
  say(`setting letters in ${contestants.length} ways, ${ROUNDS} rounds`);
  const standings = await contest(contestants, rounds, WARM_UP);
  const [ours, bare, tagged] = standings;
  for (const one of [bare, tagged]) if (ours && one) checkSame(ours, one);
  if (!noBrowser) {
    const ms = await browserEachTime((rounds.at(-1) ?? []).slice(0, 3), scratch);
    notes.push(`A Chromium process for each letter: ${ms.toFixed(0)} ms a document (3 letters).`);
  }
  const of = (contestant: Contestant | undefined) => standings.find((s) => s.what === contestant?.what);
  return { standings, ours, floor: tagged, typesetter: of(typst), browser: of(browser), notes };
}

/** Peak MB by number of visits; without proofing, two workers. */
async function memory(counts: readonly number[], scratch: string): Promise<Map<number, number>> {
  const peaks = new Map<number, number>();
  for (const visits of counts) {
    say(`memory at ${visits} visits`);
    const source = freshVisits(join(scratch, "many"), visits).folder;
    const { peakMb } = await measureBatch({ source, visits, workers: 2, proof: false }, join(scratch, "out"));
    if (peakMb !== undefined) peaks.set(visits, peakMb);
    rmSync(source, { recursive: true });
  }
  return peaks;
}

interface Asked {
  readonly counts: readonly number[];
  readonly memory: boolean;
  readonly only: readonly string[];
  readonly gate: boolean;
  readonly keep: boolean;
}

/** Holds processor times against those kept, or keeps them. */
async function gate(isKept: boolean): Promise<void> {
  const scratch = mkdtempSync(join(tmpdir(), "whorl-gate-"));
  try {
    // What was kept may hold something back from being measured again; new figures are found afresh.
    const kept = isKept ? {} : keptRatios();
    const found = await gauged(gauges(scratch), reference, kept, say);
    const verdicts = judged(keptRatios(), found);
    process.stdout.write(`${gateTable(verdicts)}\n`);
    if (isKept) keep(found);
    else if (isShut(verdicts)) process.exitCode = 1;
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

async function bench(asked: Asked): Promise<void> {
  const parts = new Set(asked.only);
  const scratch = mkdtempSync(join(tmpdir(), "whorl-bench-"));
  try {
    const runs = parts.has("batches") ? await batches(asked.counts, [1, 2], scratch) : [];
    const letters = parts.has("letters") ? await setLetters(scratch) : undefined;
    const counts = asked.memory ? [...MEMORY_VISITS, MEMORY_VISITS_IF_ASKED] : MEMORY_VISITS;
    const peaks = parts.has("memory") ? await memory(counts, scratch) : new Map<number, number>();
    if (parts.has("start")) say("cold starts");
    const starts: ColdStart[] = parts.has("start") ? await coldStarts(scratch) : [];
    const sections = [
      `Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model.trim() ?? "unknown processor"}`,
      runs.length > 0 ? batchTable(runs) : "",
      letters ? standingTable(letters.standings) : "",
      peaks.size > 0
        ? table(
            ["Visits (2 workers, `--no-proof`)", "Peak MB"],
            [...peaks].map(([visits, mb]) => [visits, Math.round(mb)]),
          )
        : "",
      starts.length > 0 ? startTable(starts) : "",
      (letters?.notes ?? []).join("\n"),
      goalTable(goals({ ...letters, batches: runs, memory: peaks, starts })),
    ];
    process.stdout.write(`${sections.filter(Boolean).join("\n\n")}\n`);
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

const USAGE = `usage: npm run bench -- [--visits N]... [--memory] [--only PART]... [--gate | --keep]
  --visits N   visits of each batch (default 400; may be given several times)
  --memory     measure memory at ${MEMORY_VISITS_IF_ASKED} visits as well, which takes minutes
  --only PART  ${PARTS.join(", ")}; may be given several times
  --gate       nothing else: hold processor times, in times of a reference process, against those kept in tests/bench/ratios.json;
               exit code 1 when one is slower
  --keep       keep the ratios found, after a change that was meant
`;

function asked(): Asked | undefined {
  try {
    const { values } = parseArgs({
      options: {
        visits: { type: "string", multiple: true },
        memory: { type: "boolean", default: false },
        only: { type: "string", multiple: true },
        gate: { type: "boolean", default: false },
        keep: { type: "boolean", default: false },
      },
    });
    const counts = (values.visits ?? ["400"]).map(Number);
    const only = values.only ?? [...PARTS];
    const isKnown = only.every((part) => PARTS.some((known) => known === part));
    return isKnown && counts.every((n) => Number.isInteger(n) && n >= 8)
      ? { ...values, only, counts }
      : undefined;
  } catch {
    return undefined;
  }
}

const wanted = asked();
if (wanted?.gate || wanted?.keep) await gate(wanted.keep);
else if (wanted) await bench(wanted);
else {
  process.stderr.write(USAGE);
  process.exitCode = 2;
}
