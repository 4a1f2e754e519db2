/** `whorl proof`: every PDF of a batch folder read back and held against its visit. */
import { availableParallelism } from "node:os";
import { relative, resolve } from "node:path";
import { type Command, InvalidArgumentError } from "commander";
import { writeReason } from "../batch/outcome.js";
import { proofFolder } from "../batch/proof/proof-folder.js";
import { EXIT, today } from "./context.js";
import { plain } from "./plain.js";

interface Options {
  readonly jobs?: number;
  readonly printRun?: string[];
  readonly json?: boolean;
}

export function proofCommand(program: Command, done: (code: number) => void): void {
  program
    .command("proof")
    .summary("read finished letters back and compare them with their visits")
    .description(
      "Reads every PDF that the manifest of a batch folder names and compares it with its visit: the right patient on every\npage and nobody else, impression, plan and cautions as recorded, pages as numbered, the address in the window, nothing\nclipped, the DRAFT mark as it should be, everything drawn as the visit draws it now, and the file byte for byte as it\nwas made. Print runs in the folder are compared with the letters in it.",
    )
    .argument("<folder>", "a folder made by whorl batch")
    .option("-j, --jobs <n>", "workers at once (default: one for each core)", (text: string) => {
      if (!/^[1-9]\d{0,2}$/u.test(text)) throw new InvalidArgumentError("expected a whole number from 1");
      return Number(text);
    })
    .option("--print-run <file...>", "also compare print runs that lie outside the folder")
    .option("--json", "print one row for each document as JSON")
    .addHelpText("after", "\nExamples:\n  whorl proof letters\n  whorl proof letters --json")
    .action(async (folder: string, options: Options) => {
      const workers = options.jobs ?? availableParallelism();
      const result = await proofFolder(resolve(folder), {
        workers,
        today: today(),
        ...(options.printRun ? { printRuns: options.printRun.map((file) => resolve(file)) } : {}),
      });
      if (!result) {
        process.stderr.write(`There is no manifest.json in ${plain(folder)}; whorl batch makes one.\n`);
        done(EXIT.usage);
        return;
      }
      const bad = result.documents.filter((d) => d.state === "bad");
      if (options.json) process.stdout.write(`${JSON.stringify(result, null, 2)}\n`);
      else {
        for (const document of bad) {
          process.stdout.write(`${plain(document.file)}  visit ${plain(document.visit)}\n`);
          for (const fault of document.faults) process.stdout.write(`    ${plain(writeReason(fault))}\n`);
        }
        for (const run of result.printRuns.filter((r) => r.state === "bad")) {
          process.stdout.write(`${plain(relative(process.cwd(), run.file))}  print run\n`);
          for (const fault of run.faults) process.stdout.write(`    ${plain(writeReason(fault))}\n`);
        }
        for (const file of result.strangers)
          process.stdout.write(`${plain(file)}  not in the manifest: no run stands behind it\n`);
        process.stderr.write(`${result.documents.length - bad.length} good, ${bad.length} bad\n`);
      }
      const badRuns = result.printRuns.filter((r) => r.state === "bad");
      done(bad.length + badRuns.length + result.strangers.length > 0 ? EXIT.input : EXIT.fine);
    });
}
