/** Files that are edited, removed or replaced while a run is at work: what it vouches for is what it read. */
import { readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { describe, expect, it } from "vitest";
import { inPackage } from "../../src/base/root.js";
import { readPdf, textOf } from "../../src/batch/proof/read-pdf.js";
import { type BatchOptions, type BatchResult, runBatch } from "../../src/batch/run.js";
import { tasks } from "../cli/worker-here.mjs";
import { scratch } from "./command.js";
import { generateVisits } from "./generate-visits.js";

const REASON = /^ {2}reason: .*$/mu;

function twoVisits() {
  const made = generateVisits(scratch(), 8);
  const files = [made.files[0] ?? "", made.files.at(-1) ?? ""] as const;
  for (const file of made.files) {
    if (files.some((kept) => dirname(kept) === dirname(file))) {
      if (!files.includes(file)) rmSync(file);
    } else rmSync(dirname(file), { recursive: true, force: true });
  }
  for (const file of files)
    writeFileSync(file, readFileSync(file, "utf8").replace("status: draft", "status: signed"));
  return { ...made, first: files[0], second: files[1], out: join(scratch(), "out") };
}

const settings = (folder: string, out: string): BatchOptions => ({
  source: folder,
  out,
  workers: 1,
  today: "2028-01-01",
  documents: ["referral-letter"],
  drafts: false,
  proof: true,
});

/** Runs the batch; `at` is called before the first letter, and after each with how many are done. */
async function batch(folder: string, out: string, at: (done: number, call: number) => void = () => {}) {
  let call = 0;
  const result = await runBatch({ ...settings(folder, out), onProgress: (done) => at(done, call++) });
  if (result.kind !== "done") throw new Error(result.kind);
  return result.manifest;
}

const edit = (file: string, from: RegExp | string, to: string) =>
  writeFileSync(file, readFileSync(file, "utf8").replace(from, to));

async function wordsOf(out: string, name: string): Promise<string> {
  const pages = (await readPdf(new Uint8Array(readFileSync(join(out, name))))) ?? [];
  return pages
    .map((page) => textOf(page.runs))
    .join(" ")
    .replace(/\s+/gu, " ");
}

const letterOf = (manifest: Extract<BatchResult, { kind: "done" }>["manifest"], source: string) =>
  manifest.documents.find((d) => source.endsWith(d.source))?.file ?? "";

describe("a visit edited during the run", () => {
  it("and put back before its end is made again, from what it says now", async () => {
    const { folder, first, out } = twoVisits();
    const before = readFileSync(first, "utf8");
    const manifest = await batch(folder, out, (done, call) => {
      if (call === 0) edit(first, REASON, "  reason: Edited words of the reason.");
      if (done === 1 && call > 0) writeFileSync(first, before);
    });
    expect(manifest.totals).toMatchObject({ made: 2, unchanged: 0, failed: 0 });
    expect(await wordsOf(out, letterOf(manifest, first))).not.toContain("Edited words");
    expect((await batch(folder, out)).totals).toMatchObject({ made: 0, unchanged: 2 });
  });

  it("is made from the edited words when they stay", async () => {
    const { folder, first, out } = twoVisits();
    const manifest = await batch(folder, out, (_, call) => {
      if (call === 0) edit(first, REASON, "  reason: Edited words of the reason.");
    });
    expect(await wordsOf(out, letterOf(manifest, first))).toContain("Edited words of the reason.");
    expect((await batch(folder, out)).totals).toMatchObject({ made: 0, unchanged: 2 });
  });

  it("into another person is held against the rest anew", async () => {
    const { folder, first, second, out } = twoVisits();
    const number = /^patient:\n {2}id: (\S+)/mu.exec(readFileSync(second, "utf8"))?.[1] ?? "";
    const manifest = await batch(folder, out, (_, call) => {
      if (call === 0) edit(first, /^(patient:\n {2}id: )\S+/mu, `$1${number}`);
    });
    expect(manifest.failures.flatMap((f) => f.reasons.map((r) => r.id))).toContain("given-differs");
    expect(manifest.documents).toEqual([]);
  });

  it("without end is given up, and says so", async () => {
    const { folder, first, out } = twoVisits();
    let n = 0;
    tasks.on("task", () => edit(first, REASON, `  reason: Version ${n++}.`));
    const manifest = await batch(folder, out).finally(() => tasks.removeAllListeners());
    expect(manifest.failures).toMatchObject([
      { source: first.slice(folder.length + 1), reasons: [{ id: "edited-while-made" }] },
    ]);
    expect(manifest.totals).toMatchObject({ made: 1, failed: 1 });
    expect((await batch(folder, out)).totals.failed).toBe(0);
  });
});

it("a visit that vanishes during the run is named by what happened to it", async () => {
  const { folder, first, out } = twoVisits();
  const manifest = await batch(folder, out, (_, call) => {
    if (call === 0) rmSync(first);
  });
  expect(manifest.failures).toEqual([
    {
      source: first.slice(folder.length + 1),
      visit: "",
      reasons: [{ id: "missing-file", message: "There is no file of that name." }],
    },
  ]);
});

it("a clinic file edited during the run is read again by the workers", async () => {
  const { folder, out } = twoVisits();
  const clinic = join(folder, "clinic.yaml");
  writeFileSync(clinic, readFileSync(inPackage("examples", "clinic.yaml")));
  const manifest = await batch(folder, out, (_, call) => {
    if (call === 0) edit(clinic, /^name: .*$/mu, "name: Another Name of the Clinic");
  });
  expect(manifest.totals).toMatchObject({ made: 2, failed: 0 });
  for (const { file } of manifest.documents) expect(await wordsOf(out, file)).toContain("Another Name");
});
