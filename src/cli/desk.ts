/** `whorl desk`: the local page for the examination itself, on this computer's own address only. */
import { existsSync, statSync } from "node:fs";
import { resolve } from "node:path";
import { type Command, InvalidArgumentError } from "commander";
import { ClinicFiles } from "../clinic-folder/clinic-file.js";
import { type RunningDesk, type ServeOptions, startDesk } from "../desk/serve.js";
import { EXIT, loadKnowledge, today } from "./context.js";

/** Tried first, so that a tab left open finds the desk again. */
const USUAL_PORT = 4740;

interface DeskCommandOptions {
  readonly port?: number;
  readonly clinic?: string;
}

export function deskCommand(program: Command, done: (code: number) => void): void {
  program
    .command("desk")
    .summary("record a visit on a local page, with letter and handout beside it")
    .description(
      "Serves a page for the examination itself on this computer only (127.0.0.1) and prints its address. The visits of the\nfolder are listed, opened as a form, and saved to the same YAML files as they are typed. Nothing leaves the computer.",
    )
    .argument("[folder]", "folder of visit files", ".")
    .option("-p, --port <number>", `port (default: ${USUAL_PORT}, or any free one)`, portNumber)
    .option("--clinic <file>", "clinic file (default: clinic.yaml beside the visit or above it)")
    .addHelpText(
      "after",
      "\nExamples:\n  whorl desk\n  whorl desk patients/ --port 5000\n\nStop it with Ctrl+C.",
    )
    .action(async (folder: string, options: DeskCommandOptions) => {
      if (!existsSync(folder) || !statSync(folder).isDirectory()) {
        process.stderr.write(`There is no folder ${folder}.\n`);
        return done(EXIT.input);
      }
      const { clinic } = options;
      if (clinic !== undefined && !existsSync(clinic)) {
        process.stderr.write(`There is no file ${clinic}.\n`);
        return done(EXIT.input);
      }
      const desk = await start(
        {
          folder,
          knowledge: loadKnowledge(),
          oneClinic: clinic !== undefined,
          clinics: new ClinicFiles(clinic === undefined ? undefined : resolve(clinic)),
          today,
          warm: true,
          onFault: (fault) =>
            process.stderr.write(`The desk failed at one request; no patient data here:\n${fault}\n`),
        },
        options.port,
      );
      if (!desk) {
        process.stderr.write(`Port ${options.port} is taken.\n`);
        return done(EXIT.usage);
      }
      process.stdout.write(`${desk.url}\n`);
      process.stderr.write("Open this address in a browser on this computer. Stop the desk with Ctrl+C.\n");
      await stopped();
      await desk.close();
    });
}

async function start(
  options: Omit<ServeOptions, "port">,
  port: number | undefined,
): Promise<RunningDesk | undefined> {
  try {
    return await startDesk({ ...options, port: port ?? USUAL_PORT });
  } catch (error) {
    if (!(error instanceof Error && "code" in error && error.code === "EADDRINUSE")) throw error;
    return port === undefined ? startDesk({ ...options, port: 0 }) : undefined;
  }
}

function stopped(): Promise<void> {
  return new Promise((resolve) => {
    process.once("SIGINT", () => resolve());
    process.once("SIGTERM", () => resolve());
  });
}

function portNumber(text: string): number {
  const port = Number(text);
  if (!/^\d+$/u.test(text) || port < 1 || port > 65_535)
    throw new InvalidArgumentError("a port is a number from 1 to 65535.");
  return port;
}
