/** `--password-file`, `--ask-password` and `--attach-visit` -> what is done to a PDF before it is written. */
import { readFileSync, statSync } from "node:fs";
import { sha256 } from "../base/sha256.js";
import type { Format, MadeDocument } from "../batch/make.js";
import { plain } from "./plain.js";

export interface ProtectionOptions {
  readonly password?: string | boolean;
  readonly passwordFile?: string;
  readonly askPassword?: boolean;
  readonly attachVisit?: boolean;
  readonly format: Format;
}

/** How documents leave the house; `fault` says why the options cannot be followed. */
export interface Protection {
  readonly password?: string;
  readonly attachVisit?: boolean;
  readonly fault?: string;
}

/** Far more than a password needs: a larger file is the wrong file. */
const MOST_BYTES = 4096;

/** Reads or asks for the password. Faults never repeat what was read. */
export async function readProtection(options: ProtectionOptions): Promise<Protection> {
  const { passwordFile, askPassword, attachVisit, format } = options;
  if (options.password !== undefined)
    return {
      fault:
        "A password on the command line can be read by others on this computer: use --password-file or --ask-password.",
    };
  const wanted = passwordFile !== undefined || askPassword || attachVisit;
  if (!wanted) return {};
  if (format !== "pdf")
    return { fault: `Passwords and attached visit files are for PDF only; --format is ${format}.` };
  const attach = attachVisit ? { attachVisit } : {};
  if (passwordFile !== undefined && askPassword)
    return { fault: "--password-file and --ask-password both give the password: use one of them." };
  if (passwordFile !== undefined) return { ...attach, ...(await passwordIn(passwordFile)) };
  if (askPassword) return { ...attach, ...(await passwordAsked()) };
  return attach;
}

/** The documents as they are to be written: the visit attached, then the password set. A fault leaves nothing to write. */
export async function protect(
  made: readonly MadeDocument[],
  visitFile: string,
  protection: Protection,
): Promise<{ documents: readonly MadeDocument[]; fault?: string }> {
  const { password, attachVisit } = protection;
  if (made.length === 0 || (password === undefined && !attachVisit)) return { documents: made };
  if (attachVisit && !made.some(isForColleague))
    return {
      documents: [],
      fault:
        "--attach-visit is for letters to colleagues, and none is asked for: a handout never carries the visit file.",
    };
  const page = await import("../page/protect.js");
  const documents: MadeDocument[] = [];
  for (const document of made) {
    let { bytes } = document;
    if (attachVisit && isForColleague(document)) {
      const { date } = document.letter;
      bytes = await page.attachVisit(bytes, {
        name: `${document.visit}.yaml`,
        yaml: readFileSync(visitFile),
        date,
      });
    }
    if (password !== undefined) bytes = await page.protectPdf(bytes, password);
    documents.push({ ...document, bytes, sha256: sha256(bytes) });
  }
  return { documents };
}

function isForColleague(document: MadeDocument): boolean {
  return document.reader === "doctor";
}

async function passwordIn(file: string): Promise<Protection> {
  const bytes = bytesOf(file);
  if (!bytes) return { fault: `There is no password file ${plain(file)} that can be read.` };
  if (bytes.length > MOST_BYTES) return { fault: `${plain(file)} is too large to hold just a password.` };
  let text: string;
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return { fault: `${plain(file)} is not text in UTF-8.` };
  }
  const password = text.replace(/\r?\n$/u, "");
  if (/[\r\n]/u.test(password))
    return { fault: `${plain(file)} holds more than one line; a password file holds the password alone.` };
  return checked(password, ` (${plain(file)})`);
}

function bytesOf(file: string): Uint8Array | undefined {
  try {
    // A pipe is allowed, so that a password keeper can hand the password over; a folder is not.
    return statSync(file).isDirectory() ? undefined : readFileSync(file);
  } catch {
    return undefined;
  }
}

async function passwordAsked(): Promise<Protection> {
  if (!process.stdin.isTTY || !process.stderr.isTTY)
    return { fault: "--ask-password needs a terminal to ask in; use --password-file where there is none." };
  const { password } = await import("@inquirer/prompts");
  const { passwordFault } = await import("../page/protect.js");
  // What is asked goes to the error stream, so that --json stays clean.
  const context = { output: process.stderr };
  try {
    const first = await password(
      { message: "Password for the PDFs", validate: (typed) => passwordFault(typed) ?? true },
      context,
    );
    const second = await password({ message: "The same password again" }, context);
    return first === second ? checked(first, "") : { fault: "The two passwords differ. Nothing was made." };
  } catch (error) {
    if (error instanceof Error && error.name === "ExitPromptError")
      return { fault: "No password was given. Nothing was made." };
    throw error;
  }
}

async function checked(password: string, where: string): Promise<Protection> {
  const { passwordFault } = await import("../page/protect.js");
  const fault = passwordFault(password);
  return fault ? { fault: `${fault.slice(0, -1)}${where}.` } : { password };
}
