/**
 * `npm run bench -- [--visits N] [--memory] [--only PARTS]`: what letters cost on this machine, all in one run on the same kind of
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
import { type Contestant, contest, type Standing } from "./contest.js";
import { drawFloor } from "./floor.js";
import { freshVisits } from "./fresh-visits.js";
import { goals } from "./goals.js";
import { lettersOf } from "./letters.js";
import { runCommand } from "./run-command.js";
import { batchTable, goalTable, standingTable, table } from "./table.js";
import { traceLetter } from "./trace.js";
import { TYPESETTER_MISSING, typesetter } from "./typesetter.js";

const PARTS = ["batches", "letters", "memory", "start"] as const;

/** As many as there are examples, so that every round has the same shapes of letters. */
const VISITS_A_ROUND = 18;
const ROUNDS = 6;
const WARM_UP = 2;
const COLD_STARTS = 5;
const MEMORY_VISITS = [100, 500, 1000];
const MEMORY_VISITS_IF_ASKED = 5000;

function say(text: string): void {
  process.stderr.write(`${text}\n`);
}

async function batches(counts: readonly number[], scratch: string): Promise<BatchRun[]> {
  const runs: BatchRun[] = [];
  for (const visits of counts) {
    const source = freshVisits(join(scratch, `visits-${visits}`), visits).folder;
    for (const proof of [true, false]) {
      for (const workers of [1, 2]) {
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

async function coldStart(scratch: string): Promise<string> {
  say("cold starts");
  const file = freshVisits(join(scratch, "one"), 1).files[0] ?? "";
  const runs = [];
  for (let i = 0; i < COLD_STARTS; i += 1)
    runs.push(
      await runCommand(["letter", file, "--out", join(scratch, "cold"), "--document", "referral-letter"]),
    );
  const best = runs.reduce((a, b) => (b.seconds < a.seconds ? b : a));
  const peak = best.peakMb === undefined ? "" : `, peak ${best.peakMb.toFixed(0)} MB`;
  return `Cold start of \`letter\`, one document, best of ${COLD_STARTS}: ${(best.seconds * 1000).toFixed(0)} ms${peak}.`;
}

async function bench(
  counts: readonly number[],
  withMost: boolean,
  parts: ReadonlySet<string>,
): Promise<void> {
  const scratch = mkdtempSync(join(tmpdir(), "whorl-bench-"));
  try {
    const runs = parts.has("batches") ? await batches(counts, scratch) : [];
    const letters = parts.has("letters") ? await setLetters(scratch) : undefined;
    const asked = withMost ? [...MEMORY_VISITS, MEMORY_VISITS_IF_ASKED] : MEMORY_VISITS;
    const peaks = parts.has("memory") ? await memory(asked, scratch) : new Map<number, number>();
    const start = parts.has("start") ? await coldStart(scratch) : "";
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
      [start, ...(letters?.notes ?? [])].filter(Boolean).join("\n"),
      goalTable(goals({ ...letters, batches: runs, memory: peaks })),
    ];
    process.stdout.write(`${sections.filter(Boolean).join("\n\n")}\n`);
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

const USAGE = `usage: npm run bench -- [--visits N]... [--memory] [--only PART]...
  --visits N   visits of each batch (default 400; may be given several times)
  --memory     measure memory at ${MEMORY_VISITS_IF_ASKED} visits as well, which takes minutes
  --only PART  ${PARTS.join(", ")}; may be given several times
`;

function asked() {
  try {
    const { values } = parseArgs({
      options: {
        visits: { type: "string", multiple: true, default: ["400"] },
        memory: { type: "boolean", default: false },
        only: { type: "string", multiple: true, default: [...PARTS] },
      },
    });
    const counts = values.visits.map(Number);
    const isKnown = values.only.every((part) => PARTS.some((known) => known === part));
    return isKnown && counts.every((n) => Number.isInteger(n) && n >= 8) ? { ...values, counts } : undefined;
  } catch {
    return undefined;
  }
}

const wanted = asked();
if (wanted) await bench(wanted.counts, wanted.memory, new Set(wanted.only));
else {
  process.stderr.write(USAGE);
  process.exitCode = 2;
}
