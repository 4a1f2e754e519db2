/** A new text file: never over an existing one, with the JSON Schema it points to beside it. */
import { existsSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { ClinicFiles } from "../clinic-folder/clinic-file.js";
import { SCHEMA_FILE, type SchemaKind, schemaText } from "../exchange/exchange.js";
import { writeWhole } from "../files/write.js";
import { EXIT, loadKnowledge } from "./context.js";

/** Where the schema of a new file belongs: beside the clinic file it falls under, else beside the file itself. */
export function schemaPlace(kind: SchemaKind, out: string | undefined): { file?: string; ref: string } {
  const name = SCHEMA_FILE[kind];
  if (out === undefined) return { ref: name };
  const folder = dirname(resolve(out));
  const clinic = kind === "visit" ? new ClinicFiles().fileOf(out) : undefined;
  const file = join(clinic ? dirname(clinic) : folder, name);
  return { file, ref: relative(folder, file).replaceAll("\\", "/") };
}

/** Prints `text`, or writes it to `out` with its schema; refuses to replace a file. Returns the exit code. */
export function deliver(kind: SchemaKind, text: string, out: string | undefined): number {
  if (out === undefined) {
    process.stdout.write(text);
    process.stderr.write(
      `With --out FILE this is written to a file, and ${SCHEMA_FILE[kind]} with it, from which an editor completes words.\n`,
    );
    return EXIT.fine;
  }
  if (isTaken(out)) return EXIT.input;
  writeWhole(out, text);
  refreshSchema(kind, schemaPlace(kind, out).file);
  process.stderr.write(`${out} is ready to be filled in.\n`);
  return EXIT.fine;
}

/** True, and said so, when something stands at `out` already. */
export function isTaken(out: string): boolean {
  if (!existsSync(out)) return false;
  process.stderr.write(
    `${out} exists already; nothing was written. Name another file, or move that one away.\n`,
  );
  return true;
}

/** Writes the schema where it is missing or out of date; a file of that name is always ours. */
export function refreshSchema(kind: SchemaKind, file: string | undefined): void {
  if (file === undefined) return;
  const text = schemaText(kind, loadKnowledge());
  if (!existsSync(file) || readFileSync(file, "utf8") !== text) writeWhole(file, text);
}
