/** `whorl batch`: many visits -> letters, a manifest, and one file ready for the printer. */
import { availableParallelism } from "node:os";
import { join, resolve } from "node:path";
import progress from "cli-progress";
import { type Command, InvalidArgumentError, Option } from "commander";
import { PAPERS, type Paper } from "../base/paper.js";
import { gatherShards } from "../batch/gather.js";
import { type Failure, MANIFEST, type Manifest, writeManifest } from "../batch/manifest.js";
import { writeReason } from "../batch/outcome.js";
import { readShard, type Shard } from "../batch/plan.js";
import { PRINT_ORDERS, type PrintOrder } from "../batch/print-run/order.js";
import type { PrintRun } from "../batch/print-run/print-run.js";
import { registerPrintRun, withRegister } from "../batch/registered.js";
import { type BatchOptions, runBatch } from "../batch/run.js";
import { NoSuchSource } from "../batch/source.js";
import { EXIT, today } from "./context.js";
import { plain } from "./plain.js";

interface Options {
  readonly out: string;
  readonly jobs?: number;
  readonly clinic?: string;
  readonly visits?: string;
  readonly document: string[];
  readonly paper?: Paper;
  readonly language?: string;
  readonly largePrint?: boolean;
  readonly templates?: string;
  readonly drafts?: boolean;
  readonly proof: boolean;
  readonly shard?: Shard;
  readonly gather?: boolean;
  readonly printRun?: string;
  readonly order: PrintOrder;
  readonly duplex?: boolean;
  readonly separators?: boolean;
  readonly reprint?: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

export function batchCommand(program: Command, done: (code: number) => void): void {
  program
    .command("batch")
    .summary("make the documents of many visits, proof them, and gather them for the printer")
    .description(
      "Makes the documents of every visit in SOURCE: a folder, or a worklist (CSV with the columns visit, documents, paper,\nlanguage, large_print; only visit is needed; paths start from the worklist's folder). Each document is read back and held\nagainst its visit; one that fails is set aside. A second run makes only what changed; a killed run continues.",
    )
    .argument("[source]", "folder of visits, or worklist.csv; not needed with --gather")
    .requiredOption("-o, --out <folder>", "where to write; the folder belongs to this source alone")
    .option("-j, --jobs <n>", "workers at once (default: one for each core)", wholeNumber)
    .option(
      "--clinic <file>",
      "clinic file for every visit (default: clinic.yaml beside the visit or above it)",
    )
    .option("--visits <folder>", "folder that the paths of the worklist start from")
    .option("-d, --document <name...>", "documents to make", ["referral-letter", "handout"])
    .addOption(new Option("--paper <size>", "paper size (default: as the clinic file says)").choices(PAPERS))
    .option("--language <tag>", "language of the documents")
    .option("--large-print", "set every handout in 18 pt")
    .option("--templates <folder>", "your own templates, over ours")
    .option("--drafts", "make unsigned visits too, marked DRAFT on every page")
    .option("--no-proof", "do not read the documents back")
    .option("--shard <i/n>", "do only the i-th of n parts, in a folder of its own below --out", shard)
    .option("--gather", "join the manifests of all parts below --out; refuses gaps and doubles")
    .option("--print-run <file.pdf>", "gather all proofed letters into one file, with an index in front")
    .addOption(
      new Option("--order <order>", "order of the print run").choices([...PRINT_ORDERS]).default("recipient"),
    )
    .option("--duplex", "start each document of the print run on a front side")
    .option("--separators", "put a sheet before each recipient of the print run")
    .option("--reprint", "take into the print run also what the register says was sent or withdrawn")
    .option("--json", "print the closing totals as JSON")
    .option("-q, --quiet", "print nothing but what needs a person")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl batch visits/ --out letters\n  whorl batch today.csv --out letters --print-run today.pdf --duplex\n  whorl batch week.csv --out letters --shard 2/4\n  whorl batch --gather --out letters --print-run week.pdf",
    )
    .action(async (source: string | undefined, options: Options, command: Command) => {
      if (source === undefined && !options.gather)
        command.error("error: name a folder of visits or a worklist");
      const made = options.gather ? gathered(options) : await run(source ?? "", options);
      if (made.manifest) report(made.folder, made.manifest, made.withdrawn, options);
      if (made.manifest && options.printRun) done(await printRun(made.folder, made.manifest, options));
      done(made.code);
    });
}

interface Made {
  readonly code: number;
  readonly folder: string;
  readonly manifest?: Manifest;
  readonly withdrawn: number;
}

function gathered(options: Options): Made {
  const folder = resolve(options.out);
  const { value, faults } = gatherShards(folder);
  for (const fault of faults) say(`${fault}\n`);
  if (!value) return { code: EXIT.input, folder, withdrawn: 0 };
  const manifest = withRegister(value);
  writeManifest(folder, manifest);
  return { code: codeOf(manifest), folder, manifest, withdrawn: 0 };
}

async function run(source: string, options: Options): Promise<Made> {
  const folder = resolve(options.out);
  const none = { folder, withdrawn: 0 };
  const stop = new AbortController();
  const onSignal = () => stop.abort();
  process.once("SIGINT", onSignal).once("SIGTERM", onSignal);
  const bar = progressBar(options);
  try {
    const result = await runBatch({
      ...batchOptions(source, options),
      onProgress: bar.update,
      stop: stop.signal,
    });
    bar.stop();
    if (result.kind === "done")
      return {
        code: codeOf(result.manifest),
        folder: resolve(result.folder),
        manifest: result.manifest,
        withdrawn: result.withdrawn,
      };
    if (result.kind === "busy")
      say(
        `Another run is at work in ${plain(result.folder)} (process ${result.pid || "unknown"} on ${plain(result.host || "this machine")}). Nothing was done.\n`,
      );
    else if (result.kind === "other-source")
      say(
        `${plain(result.folder)} holds the documents of ${plain(result.source)}. Choose another --out folder.\n`,
      );
    else
      say(
        `Stopped: ${result.finished} visits are finished, ${result.left} are left. Run the same command again to continue.\n`,
      );
    return { ...none, code: result.kind === "other-source" ? EXIT.usage : EXIT.input };
  } catch (error) {
    if (!(error instanceof NoSuchSource)) throw error;
    say(`There is no ${plain(source)}.\n`);
    return { ...none, code: EXIT.usage };
  } finally {
    bar.stop();
    process.off("SIGINT", onSignal).off("SIGTERM", onSignal);
  }
}

function batchOptions(source: string, options: Options): BatchOptions {
  return {
    source,
    out: resolve(options.out),
    workers: options.jobs ?? availableParallelism(),
    today: today(),
    documents: options.document,
    drafts: options.drafts ?? false,
    proof: options.proof,
    ...(options.visits ? { visitsFolder: options.visits } : {}),
    ...(options.clinic ? { clinicFile: resolve(options.clinic) } : {}),
    ...(options.paper ? { paper: options.paper } : {}),
    ...(options.language ? { language: options.language } : {}),
    ...(options.largePrint ? { largePrint: true } : {}),
    ...(options.templates ? { templates: resolve(options.templates) } : {}),
    ...(options.shard ? { shard: options.shard } : {}),
  };
}

async function printRun(folder: string, manifest: Manifest, options: Options): Promise<number> {
  const file = resolve(options.printRun ?? "");
  // Its library takes as long to load as all else, and most runs need none.
  const { makePrintRun, NotAsMade } = await import("../batch/print-run/print-run.js");
  try {
    const made = await makePrintRun(folder, manifest, {
      file,
      order: options.order,
      duplex: options.duplex ?? false,
      separators: options.separators ?? false,
      date: today(),
      ...(options.reprint ? {} : { since: new Date().toISOString() }),
    });
    await registerPrintRun(manifest, file, made.documents, made.pages);
    tell(file, made, options);
    return EXIT.fine;
  } catch (error) {
    if (!(error instanceof NotAsMade)) throw error;
    say(`No print run: ${plain(error.file)} is not as it was made. Run the batch again.\n`);
    return EXIT.input;
  }
}

function tell(file: string, result: PrintRun, options: Options): void {
  if (options.json || options.quiet) return;
  say(`${plain(file)}: ${result.letters} documents on ${result.pages} pages.\n`);
  if (result.closed > 0)
    say(
      `${result.closed} documents were sent or withdrawn already and are not in it (--reprint takes them in).\n`,
    );
  if (result.leftOut > 0)
    say(`${result.leftOut} documents are not in it: drafts, set aside, or for the clinician only.\n`);
}

function report(folder: string, manifest: Manifest, withdrawn: number, options: Options): void {
  const { totals, failures, notices } = manifest;
  const path = join(folder, MANIFEST);
  if (options.json) {
    const list = failures.map((f) => ({ source: f.source, visit: f.visit, reasons: f.reasons }));
    process.stdout.write(
      `${JSON.stringify({ ...totals, withdrawn, manifest: path, failures: list, notices, waiting_visits: manifest.waiting }, null, 2)}\n`,
    );
    return;
  }
  sayReasons(failures);
  if (notices.length > 0) say("Made, but worth a look:\n");
  sayReasons(notices);
  if (options.quiet) return;
  const rows: [string, number][] = [
    ["made", totals.made],
    ["unchanged", totals.unchanged],
    ["waiting for signature", totals.waiting],
    ["failed", totals.failed],
  ];
  for (const [label, count] of rows) say(`${label.padEnd(22)} ${String(count).padStart(6)}\n`);
  if (totals.visits === 0) say("No visits found.\n");
  if (withdrawn > 0) say(`${withdrawn} earlier documents no longer hold and were moved to withdrawn/.\n`);
  process.stdout.write(`${path}\n`);
}

function sayReasons(failures: readonly Failure[]): void {
  for (const { source, visit, reasons } of failures) {
    say(`${plain(source || "worklist")}${visit ? `  visit ${plain(visit)}` : ""}\n`);
    for (const reason of reasons) say(`    ${plain(writeReason(reason))}\n`);
  }
}

/** Rate and time left, on a terminal only. */
function progressBar(options: Options): { update(done: number, total: number): void; stop(): void } {
  if (options.quiet || options.json || !process.stderr.isTTY) return { update: () => {}, stop: () => {} };
  const bar = new progress.SingleBar({
    format: "{bar} {value}/{total} visits  {rate}/s  {eta_formatted} left",
    stream: process.stderr,
    clearOnComplete: true,
    hideCursor: true,
    barCompleteChar: "#",
    barIncompleteChar: ".",
    etaBuffer: 50,
  });
  let start: { at: number; done: number } | undefined;
  return {
    update(finished, total) {
      if (!start) {
        start = { at: Date.now(), done: finished };
        bar.start(total, finished, { rate: "-" });
      }
      const seconds = (Date.now() - start.at) / 1000;
      const rate = seconds > 0.5 ? ((finished - start.done) / seconds).toFixed(1) : "-";
      bar.update(finished, { rate });
    },
    stop: () => bar.stop(),
  };
}

function codeOf(manifest: Manifest): number {
  return manifest.failures.length > 0 || manifest.totals.visits === 0 ? EXIT.input : EXIT.fine;
}

function say(text: string): void {
  process.stderr.write(text);
}

function wholeNumber(text: string): number {
  if (!/^[1-9]\d{0,2}$/u.test(text)) throw new InvalidArgumentError("expected a whole number from 1");
  return Number(text);
}

function shard(text: string): Shard {
  const value = readShard(text);
  if (!value) throw new InvalidArgumentError("expected a part such as 2/4");
  return value;
}
