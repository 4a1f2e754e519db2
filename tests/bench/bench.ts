/**
 * `npm run bench -- [VISITS]`: what letters cost on this machine, all in one run on the same invented visits. Batches are run as
 * a user runs them, start included; the rest is measured warm in this process.
 */
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { chromium } from "playwright-core";
import { makeDocuments } from "../../src/batch/make.js";
import { prepareVisit } from "../../src/batch/prepare.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import type { Letter } from "../../src/letter/document.js";
import { renderHtml } from "../../src/page/html.js";
import { renderPdf } from "../../src/page/pdf.js";
import { renderText } from "../../src/page/text.js";
import { readClinic } from "../../src/visit/clinic.js";
import { generateVisits } from "../batch/generate-visits.js";
import { drawBare } from "./floor.js";
import { runCommand } from "./run-command.js";

const CHROMIUM = process.env.CHROMIUM ?? "/usr/bin/chromium";
/** Visits whose letters are measured warm. */
const WARM_VISITS = 18;
const COLD_STARTS = 5;

interface Row {
  readonly what: string;
  readonly perSecond: number;
  readonly peakMb?: number | undefined;
}

async function batches(source: string, visits: number, scratch: string): Promise<Row[]> {
  const rows: Row[] = [];
  for (const proof of [true, false]) {
    for (const jobs of [1, 2]) {
      const out = join(scratch, `out-${jobs}-${proof}`);
      const options = proof ? [] : ["--no-proof"];
      const run = await runCommand("batch", source, "--out", out, "--jobs", String(jobs), ...options);
      const manifest = JSON.parse(readFileSync(join(out, "manifest.json"), "utf8")) as {
        documents: unknown[];
      };
      const workers = jobs === 1 ? "1 worker" : `${jobs} workers`;
      rows.push({
        what: `\`batch\`, ${visits} visits, ${workers}, ${proof ? "proofed" : "`--no-proof`"}`,
        perSecond: manifest.documents.length / run.seconds,
        peakMb: run.peakMb,
      });
      rmSync(out, { recursive: true });
    }
  }
  return rows;
}

/** The letters and handouts of the first visits. */
async function lettersOf(folder: string, files: readonly string[]): Promise<Letter[]> {
  const knowledge = loadKnowledge();
  const clinic = readClinic(join(folder, "clinic.yaml")).value;
  if (!clinic) throw new Error("the clinic file of the examples cannot be read");
  const letters: Letter[] = [];
  for (const file of files) {
    const today = new Date().toISOString().slice(0, 10);
    const { value } = prepareVisit({ file, neighbours: [], clinic, knowledge, today });
    if (!value) continue;
    const documents = ["referral-letter", "handout"];
    const { made } = await makeDocuments(value.examined, { knowledge, clinic, documents, format: "html" });
    letters.push(...made.map((document) => document.letter));
  }
  return letters;
}

/** Letters a second, after one round to warm up; the best of three rounds, since other work only ever slows a round. */
async function warm(letters: readonly Letter[], work: (letter: Letter) => Promise<unknown>): Promise<number> {
  let best = 0;
  for (let round = 0; round < 4; round += 1) {
    const start = performance.now();
    for (const letter of letters) await work(letter);
    if (round > 0) best = Math.max(best, (letters.length * 1000) / (performance.now() - start));
  }
  return best;
}

async function inChromium(letters: readonly Letter[]): Promise<number> {
  const browser = await chromium.launch({
    executablePath: CHROMIUM,
    args: ["--no-sandbox", "--disable-gpu"],
  });
  try {
    const page = await browser.newPage();
    return await warm(letters, async (letter) => {
      await page.setContent(renderHtml(letter));
      await page.pdf({ format: letter.paper, tagged: true });
    });
  } finally {
    await browser.close();
  }
}

async function coldStart(
  file: string,
  scratch: string,
): Promise<{ seconds: number; peakMb: number | undefined }> {
  const runs = [];
  for (let i = 0; i < COLD_STARTS; i += 1) {
    runs.push(
      await runCommand("letter", file, "--out", join(scratch, "cold"), "--document", "referral-letter"),
    );
  }
  return runs.reduce((best, run) => (run.seconds < best.seconds ? run : best));
}

async function bench(visits: number): Promise<void> {
  const scratch = mkdtempSync(join(tmpdir(), "whorl-bench-"));
  try {
    const { folder, files } = generateVisits(join(scratch, "visits"), visits);
    const rows = await batches(folder, visits, scratch);
    const cold = await coldStart(files[0] ?? "", scratch);
    const letters = await lettersOf(folder, files.slice(0, WARM_VISITS));
    rows.push({ what: "page room alone, warm", perSecond: await warm(letters, renderPdf) });
    const texts = new Map(letters.map((letter) => [letter, renderText(letter)]));
    const floor = await warm(letters, (letter) => drawBare(texts.get(letter) ?? ""));
    rows.push({ what: "bare pdfkit, the same words, fonts parsed before (the floor)", perSecond: floor });
    if (existsSync(CHROMIUM)) {
      rows.push({ what: "headless Chromium kept warm, the same HTML", perSecond: await inChromium(letters) });
    }
    const lines = [
      `Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model.trim() ?? "unknown processor"}`,
      "",
      "| What | Documents a second | ms a document | Peak MB |",
      "|---|---|---|---|",
      ...rows.map(
        ({ what, perSecond, peakMb }) =>
          `| ${what} | ${perSecond.toFixed(1)} | ${(1000 / perSecond).toFixed(1)} | ${peakMb?.toFixed(0) ?? ""} |`,
      ),
      `| cold start of \`letter\`, one document, best of ${COLD_STARTS} | | ${(cold.seconds * 1000).toFixed(0)} | ${cold.peakMb?.toFixed(0) ?? ""} |`,
      "",
      existsSync(CHROMIUM) ? "" : `Chromium was not measured: there is none at ${CHROMIUM}.`,
      "An embedded typesetter was not measured: none is installed.",
    ];
    process.stdout.write(`${lines.join("\n")}\n`);
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

const asked = Number(process.argv[2] ?? 60);
if (!Number.isInteger(asked) || asked < 1) {
  process.stderr.write("usage: npm run bench -- [VISITS]\n");
  process.exitCode = 2;
} else await bench(asked);
