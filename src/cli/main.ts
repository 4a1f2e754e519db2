/** The `whorl` command: one file per subcommand, no logic here but exit codes and our own faults. */
import "./check-plainly.js";
import { readFileSync } from "node:fs";
import { Command, CommanderError } from "commander";
import { inPackage } from "../base/root.js";
import { TOO_FEW_HANDLES } from "../files/handles.js";
import { codeOf, NotWritten } from "../files/not-written.js";
import { RegisterBusy } from "../register/busy.js";
import { EXIT } from "./context.js";
import { plain } from "./plain.js";

type Register = (program: Command, done: (code: number) => void) => void;

/** Each command's file is loaded only when it is asked for, or when all are listed: a letter need not wait for the print run's libraries. */
const COMMANDS: Readonly<Record<string, () => Promise<Register>>> = {
  letter: async () => (await import("./letter.js")).letterCommand,
  check: async () => (await import("./check.js")).checkCommand,
  explain: async () => (await import("./explain.js")).explainCommand,
  compare: async () => (await import("./compare.js")).compareCommand,
  catalogue: async () => (await import("./catalogue.js")).catalogueCommand,
  export: async () => (await import("./export.js")).exportCommand,
  new: async () => (await import("./new.js")).newCommand,
  schema: async () => (await import("./schema.js")).schemaCommand,
  desk: async () => (await import("./desk.js")).deskCommand,
  sign: async () => (await import("./sign.js")).signCommand,
  register: async () => (await import("./register.js")).registerCommand,
  sent: async () => (await import("./sent.js")).sentCommand,
  "gather-patient": async () => (await import("./patient.js")).gatherPatientCommand,
  "erase-patient": async () => (await import("./patient.js")).erasePatientCommand,
  batch: async () => (await import("./batch.js")).batchCommand,
  send: async () => (await import("./send.js")).sendCommand,
  due: async () => (await import("./due.js")).dueCommand,
  audit: async () => (await import("./audit.js")).auditCommand,
  proof: async () => (await import("./proof.js")).proofCommand,
};

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
    // What stands behind a command is its own, and behind a part of a command that part's.
    .enablePositionalOptions()
    .addHelpText(
      "after",
      "\nWhorl supports a licensed clinician and never diagnoses. The letter states the clinician's recorded impression.",
    );
  const asked = argv[2] !== undefined && Object.hasOwn(COMMANDS, argv[2]) ? COMMANDS[argv[2]] : undefined;
  for (const load of asked ? [asked] : Object.values(COMMANDS)) {
    const register = await load();
    register(program, (c) => {
      code = Math.max(code, c);
    });
  }
  for (const command of program.commands) {
    command.exitOverride().showHelpAfterError(`(whorl ${command.name()} --help shows how)`);
  }
  try {
    await program.parseAsync([...argv]);
    return code;
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT.fine : EXIT.usage;
    // `bin/whorl.js` says it, since so few handles may keep the command itself from being loaded.
    if (TOO_FEW_HANDLES.includes(codeOf(error))) throw error;
    if (error instanceof RegisterBusy) {
      const where = error.host === "" ? "" : ` on ${plain(error.host)}`;
      process.stderr.write(
        `Another program${where} holds the register and does not let go. Run the command again: what is missing in the register is written then.\n`,
      );
      return EXIT.input;
    }
    reportOwnFault(error, version);
    return EXIT.failed;
  }
}

/** What the system's codes mean to whoever looks after the disk. */
const REASONS: Readonly<Record<string, string>> = {
  ENOSPC: "the disk is full",
  EDQUOT: "the disk quota is used up",
  EACCES: "no permission",
  EPERM: "no permission",
  EROFS: "the disk is read-only",
};

/** A fault of ours: kind and place, never the message, which might hold what a patient file says. */
function reportOwnFault(error: unknown, version: string): void {
  if (error instanceof NotWritten) {
    const why = REASONS[error.code];
    process.stderr.write(
      `Whorl could not write ${plain(error.file)}: ${why ? `${why} (${error.code})` : error.code}. Nothing was left half-written.\n`,
    );
    return;
  }
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
