/** `whorl gather-patient` and `whorl erase-patient`: everything of one patient, given out or taken away. */
import { existsSync, readdirSync } from "node:fs";
import { resolve } from "node:path";
import type { Command } from "commander";
import { hasError } from "../base/problem.js";
import { erasePatient, toErase } from "../register/erase-patient.js";
import { gatherPatient } from "../register/gather-patient.js";
import { clinicFolderOf } from "../register/places.js";
import { EXIT } from "./context.js";
import { plain } from "./plain.js";
import { plural, print, printJson, say } from "./register-folder.js";
import { showProblems } from "./show-problems.js";

export function gatherPatientCommand(program: Command, done: (code: number) => void): void {
  program
    .command("gather-patient")
    .summary("put everything of one patient into one folder, and nothing of anybody else")
    .description(
      "Writes visits and photos, visits as they were signed, every document of the register as it was made, and the register's lines\nof one patient number. While it is doubtful whose a visit is, nothing is written.",
    )
    .argument("<number>", "the patient's number, exactly as the visits write it")
    .argument("[folder]", "folder of the clinic, or one below it", ".")
    .requiredOption("-o, --out <folder>", "new or empty folder")
    .option("--json", "print what was written as JSON")
    .addHelpText(
      "after",
      "\nExample:\n  whorl gather-patient TS-40417 clinic/ --out for-the-patient\n\nExit codes: 0 all is there, 1 something is doubtful or missing, 2 wrong usage, 3 the tool itself failed.",
    )
    .action((number: string, path: string, { out, json }: { out: string; json?: boolean }) => {
      const folder = clinicOf(path);
      if (folder === undefined) return done(EXIT.input);
      if (existsSync(out) && readdirSync(out).length > 0) {
        say(`${plain(out)} is not empty; nothing was written.`);
        return done(EXIT.usage);
      }
      const { problems, ...result } = gatherPatient(folder, number, resolve(out));
      if (problems.length > 0) process.stderr.write(`${showProblems(problems)}\n\n`);
      if (json) printJson({ patient: number, out: resolve(out), ...result });
      else if (result.files.length > 0)
        say(
          `${plain(out)}: ${plural(result.visits, "visit")}, ${plural(result.photos, "photo")}, ${plural(result.documents, "document")}, ${plural(result.lines, "line")} of the register.`,
        );
      else say(`Nothing was written for ${plain(number)}.`);
      done(problems.length > 0 || result.files.length === 0 ? EXIT.input : EXIT.fine);
    });
}

interface EraseOptions {
  readonly by: string;
  readonly reason: string;
  readonly confirm?: string;
  readonly json?: boolean;
}

export function erasePatientCommand(program: Command, done: (code: number) => void): void {
  program
    .command("erase-patient")
    .summary("take everything of one patient out of the clinic's folder; the register's chain still holds")
    .description(
      "Lists what would go: visits, photos, letters beside the visits, and what the register holds. Then asks for the number once more.\nIn the register hashes stay and content goes. Print runs, letters in other folders and backups are yours to find.",
    )
    .argument("<number>", "the patient's number, exactly as the visits write it")
    .argument("[folder]", "folder of the clinic, or one below it", ".")
    .requiredOption("--by <person>", "who decides it: a key of the clinic file, or a name")
    .requiredOption("--reason <text>", "why; stays in the register, so name nobody in it")
    .option("--confirm <number>", "the number once more, where no terminal can ask for it")
    .option("--json", "print what went as JSON")
    .addHelpText(
      "after",
      '\nExample:\n  whorl erase-patient TS-40417 clinic/ --by wen-castellane --reason "kept for ten years"\n\nExit codes: 0 done, 1 not done, 2 wrong usage, 3 the tool itself failed.',
    )
    .action(async (number: string, path: string, { by, reason, confirm, json }: EraseOptions) => {
      const folder = clinicOf(path);
      if (folder === undefined) return done(EXIT.input);
      const { files, lines, problems } = toErase(folder, number);
      if (problems.length > 0) process.stderr.write(`${showProblems(problems)}\n\n`);
      if (hasError(problems)) {
        say("Nothing was erased.");
        return done(EXIT.input);
      }
      if (files.length === 0 && lines === 0) {
        say(`There is nothing of ${plain(number)} here.`);
        return done(EXIT.input);
      }
      if (!json) {
        for (const file of files) print(`${plain(file)}\n`);
        print(`${plural(lines, "line")} of the register\n`);
      }
      const again = confirm ?? (await askedNumber());
      if (again !== number) {
        say("The number was not given again; nothing was erased.");
        return done(EXIT.input);
      }
      const erased = erasePatient(folder, number, { by, reason });
      if (json) printJson({ files: erased.files, lines: erased.lines, contents: erased.contents });
      else
        say(
          `${plural(erased.files.length, "file")} and ${plural(erased.lines, "line")} of the register erased.`,
        );
      done(problems.length > 0 ? EXIT.input : EXIT.fine);
    });
}

async function askedNumber(): Promise<string> {
  if (!process.stdin.isTTY) return "";
  const { terminalAsker } = await import("./new-terminal.js");
  return (await terminalAsker.text("Type the patient's number once more to erase all this:", {})) ?? "";
}

function clinicOf(path: string): string | undefined {
  const folder = clinicFolderOf(resolve(path));
  if (folder === undefined) say(`${plain(path)} belongs to no clinic: no clinic.yaml lies there or above.`);
  return folder;
}
