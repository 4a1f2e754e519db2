/** `whorl letter`: one visit or many -> documents on disk, each whole or not at all. */

import { readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { type Command, Option } from "commander";
import { PAPERS, type Paper } from "../base/paper.js";
import { hasError, type Problem } from "../base/problem.js";
import { BATCH_PROBLEMS } from "../base/problem-table.js";
import type { Examined } from "../batch/examine.js";
import { leaving } from "../batch/leaving.js";
import { FORMATS, type Format, type MadeDocument } from "../batch/make.js";
import { makeProofed } from "../batch/make-proofed.js";
import { prepareFile } from "../batch/prepare.js";
import { sweepTemporary, writeWhole } from "../files/write.js";
import type { ClinicRegisters } from "../register/clinic-registers.js";
import { recordMade } from "../register/record.js";
import { EXIT, look } from "./context.js";
import { protect, readProtection } from "./protection.js";
import { countProblems, showProblems } from "./show-problems.js";

interface LetterOptions {
  readonly out: string;
  readonly clinic?: string;
  readonly document: string[];
  readonly format: Format;
  readonly paper?: Paper;
  readonly language?: string;
  readonly largePrint?: boolean;
  readonly templates?: string;
  readonly password?: string | boolean;
  readonly passwordFile?: string;
  readonly askPassword?: boolean;
  readonly attachVisit?: boolean;
  readonly proof: boolean;
  readonly json?: boolean;
  readonly quiet?: boolean;
}

export function letterCommand(program: Command, done: (code: number) => void): void {
  program
    .command("letter")
    .summary("make the referral letter and the patient handout of a visit")
    .description(
      "Makes the documents of each visit file (or of every visit file below a folder). A visit with an error makes nothing;\neach PDF is read back and held against its visit, and an existing document is replaced only by a complete one.",
    )
    .argument("<visit...>", "visit files or folders")
    .option("-o, --out <folder>", "where to write", ".")
    .option("--clinic <file>", "clinic file (default: clinic.yaml beside the visit or above it)")
    .option(
      "-d, --document <name...>",
      "referral-letter, handout, reasoning-sheet, progress-sheet or one of your own",
      ["referral-letter", "handout"],
    )
    .addOption(new Option("-f, --format <format>", "file format").choices([...FORMATS]).default("pdf"))
    .addOption(new Option("--paper <size>", "paper size (default: as the clinic file says)").choices(PAPERS))
    .option(
      "--language <tag>",
      "language of the documents (default: the clinic's for letters, the patient's for handouts)",
    )
    .option("--large-print", "set the handout in 18 pt")
    .option("--templates <folder>", "your own templates, over ours")
    .option(
      "--password-file <file>",
      "lock the PDFs (AES-256) with the password that is the one line of this file",
    )
    // Known only to be refused without repeating it.
    .addOption(new Option("--password [word]").hideHelp())
    .option("--ask-password", "lock the PDFs with a password that is asked for, twice, and not shown")
    .option(
      "--attach-visit",
      "attach the whole visit file to PDF letters for colleagues, never to the patient's handout",
    )
    .option("--no-proof", "do not read the finished PDFs back")
    .option("--json", "print what was made as JSON")
    .option("-q, --quiet", "print problems only")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl letter visit.yaml\n  whorl letter visit.yaml --out today --large-print\n  whorl letter visit.yaml --document reasoning-sheet\n  whorl letter visit.yaml --format text --document handout\n  whorl letter visit.yaml --document referral-letter --attach-visit --ask-password",
    )
    .action(async (paths: string[], options: LetterOptions) => {
      if (options.out === "-") {
        process.stderr.write("--out names a folder; documents are written as files, never printed.\n");
        return done(EXIT.usage);
      }
      const protection = await readProtection(options);
      if (protection.fault) {
        process.stderr.write(`${protection.fault}\n`);
        return done(EXIT.usage);
      }
      const { around, files, problems } = look(paths, options.clinic);
      const { knowledge } = around.reader;
      sweepTemporary(options.out);
      const made: { file: string; document: string; visit: string; pages: number; sha256: string }[] = [];
      let failed = problems.length;
      for (const file of files) {
        const { value, clinic, problems: found } = prepareFile(file, around);
        problems.push(...found);
        if (!value || !clinic) {
          failed++;
          continue;
        }
        const { examined, change, editions } = value;
        const result = await makeProofed(examined, {
          knowledge,
          clinic,
          documents: options.document,
          format: options.format,
          proof: options.proof,
          people: around.people.everyone(file),
          ...withClinicFile(around.clinics.fileOf(file)),
          overrides: {
            ...(change ? { change } : {}),
            ...(options.paper ? { paper: options.paper } : {}),
            ...(options.language ? { language: options.language } : {}),
            ...(options.largePrint ? { largePrint: true } : {}),
            ...(options.templates ? { templates: options.templates } : {}),
          },
          ...(editions ? { editions } : {}),
        });
        problems.push(...result.problems);
        if (result.made.length === 0 || hasError(result.problems)) {
          failed++;
          continue;
        }
        const ready = await protect(result.made, examined.file, protection);
        if (ready.fault) {
          process.stderr.write(`${ready.fault}\n`);
          return done(EXIT.usage);
        }
        const written: MadeDocument[] = [];
        for (const document of ready.documents) {
          const path = join(options.out, document.name);
          const before = made.find((one) => one.file === path);
          if (before) {
            problems.push(nameTaken(file, document.name));
            failed++;
            break;
          }
          writeWhole(path, document.bytes);
          written.push(document);
          made.push({
            file: path,
            document: document.kind,
            visit: document.visit,
            pages: document.pages,
            sha256: document.sha256,
          });
          if (!options.json && !options.quiet) {
            const pages =
              document.pages > 0 ? `  ${document.pages} page${document.pages === 1 ? "" : "s"}` : "";
            process.stdout.write(`${relative(process.cwd(), path) || path}${pages}\n`);
          }
        }
        registerLetters(file, examined, written, around.registers);
      }
      const unique = dropRepeats(problems);
      if (unique.length > 0) process.stderr.write(`\n${showProblems(unique)}\n\n`);
      if (options.json) process.stdout.write(`${JSON.stringify({ made, failed }, null, 2)}\n`);
      else if (!options.quiet) {
        const count = countProblems(unique);
        process.stderr.write(
          `${made.length} document${made.length === 1 ? "" : "s"} in ${options.out}${failed > 0 ? `; ${failed} visit${failed === 1 ? "" : "s"} made nothing` : ""}${count ? `; ${count}` : ""}\n`,
        );
      }
      if (files.length === 0) process.stderr.write("No visit files found.\n");
      done(failed > 0 || files.length === 0 ? EXIT.input : EXIT.fine);
    });
}

/** Tells the clinic's register, where one has begun, what was made of a signed visit and may leave the clinic. */
function registerLetters(
  file: string,
  { visit }: Examined,
  written: readonly MadeDocument[],
  registers: ClinicRegisters,
): void {
  const folder = registers.begunFor(file);
  const made = leaving(visit, written, () => readFileSync(file));
  if (folder !== undefined && made) recordMade(folder, [made], { how: "letter", again: true });
}

const withClinicFile = (clinicFile: string | undefined) => (clinicFile === undefined ? {} : { clinicFile });

function nameTaken(file: string, name: string): Problem {
  return {
    severity: "error",
    id: "name-taken",
    message: `${name} was made of another visit just now; two visits carry one number`,
    file,
    path: "visit.id",
    expected: BATCH_PROBLEMS["name-taken"].cure,
  };
}

function dropRepeats(problems: readonly Problem[]): Problem[] {
  const seen = new Set<string>();
  return problems.filter((p) => {
    const key = `${p.file}:${p.line}:${p.column}:${p.id}:${p.message}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}
