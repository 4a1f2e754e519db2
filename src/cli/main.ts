/** The `whorl` command: one file per subcommand, no logic here but exit codes and our own faults. */
import { readFileSync } from "node:fs";
import { Command, CommanderError } from "commander";
import { inPackage } from "../base/root.js";
import { batchCommand } from "./batch.js";
import { catalogueCommand } from "./catalogue.js";
import { checkCommand } from "./check.js";
import { compareCommand } from "./compare.js";
import { EXIT } from "./context.js";
import { deskCommand } from "./desk.js";
import { explainCommand } from "./explain.js";
import { exportCommand } from "./export.js";
import { letterCommand } from "./letter.js";
import { newCommand } from "./new.js";
import { proofCommand } from "./proof.js";
import { schemaCommand } from "./schema.js";

const COMMANDS = [
  letterCommand,
  checkCommand,
  explainCommand,
  compareCommand,
  catalogueCommand,
  exportCommand,
  newCommand,
  schemaCommand,
  deskCommand,
  batchCommand,
  proofCommand,
];

/** Runs the command line; returns the exit code: 0 fine, 1 input needs a person, 2 wrong usage, 3 the tool failed. */
export async function main(argv: readonly string[]): Promise<number> {
  let code: number = EXIT.fine;
  const version = packageVersion();
  const program = new Command("whorl")
    .description(
      "From what a clinician saw through a dermoscope on a scalp to a referral letter and a patient handout.",
    )
    .version(version)
    .showHelpAfterError("(whorl --help lists the commands)")
    .exitOverride()
    .addHelpText(
      "after",
      "\nWhorl supports a licensed clinician and never diagnoses. The letter states the clinician's recorded impression.",
    );
  for (const register of COMMANDS) {
    register(program, (c) => {
      code = Math.max(code, c);
    });
  }
  for (const command of program.commands) command.exitOverride();
  try {
    await program.parseAsync([...argv]);
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.fine : EXIT.usage;
    reportOwnFault(error, version);
    return EXIT.failed;
  }
}

/** A fault of ours: kind and place, never the message, which might hold what a patient file says. */
function reportOwnFault(error: unknown, version: string): void {
  const code = error instanceof Error && "code" in error ? String(error.code) : "";
  if (["ENOSPC", "EACCES", "EROFS", "EDQUOT", "EISDIR", "ENOTDIR"].includes(code)) {
    process.stderr.write(`Whorl could not write (${code}). Nothing was left half-written.\n`);
    return;
  }
  const stack =
    error instanceof Error
      ? (error.stack ?? "")
          .split("\n")
          .filter((l) => /^\s+at /u.test(l))
          .slice(0, 5)
          .join("\n")
      : "";
  const name = error instanceof Error ? error.name : typeof error;
  process.stderr.write(
    `Whorl itself failed (version ${version}, ${name}). Please report it with these lines; they hold no patient data:\n${stack}\n`,
  );
}

function packageVersion(): string {
  const parsed: unknown = JSON.parse(readFileSync(inPackage("package.json"), "utf8"));
  return typeof parsed === "object" && parsed !== null && "version" in parsed ? String(parsed.version) : "0";
}
