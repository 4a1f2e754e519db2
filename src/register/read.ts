/** Reads a clinic's register. Whatever stands in it, this never throws: it says the first line that is not as it was written. */
import { readFileSync, statSync } from "node:fs";
import type { Problem } from "../base/problem.js";
import { type Chain, type Fault, type Last, type RegisterProblemId, readChain } from "./chain.js";
import type { RegisterLine } from "./line.js";
import { lastFile, registerFile } from "./places.js";

export interface Register {
  /** False where none has begun; then there are neither lines nor problems. */
  readonly exists: boolean;
  /** The lines before the first break; all of them in a sound register. Oldest first. */
  readonly lines: readonly RegisterLine[];
  /** Lines from the first break on that can still be read. */
  readonly doubtful: readonly RegisterLine[];
  /** Errors name the first bad line first; a torn line is a warning. */
  readonly problems: readonly Problem[];
}

/** The register of a clinic's folder, the one that holds the clinic file. */
export function readRegister(folder: string): Register {
  const file = registerFile(folder);
  const read = textOf(file);
  const last = lastOf(folder);
  if (read.code !== undefined && (read.code !== "ENOENT" || last))
    return { exists: true, lines: [], doubtful: [], problems: [unreadable(file, read.code, last)] };
  if (read.code !== undefined) return { exists: false, lines: [], doubtful: [], problems: [] };
  const { lines, doubtful, faults } = chainIn(file, read.text, last);
  return { exists: true, lines, doubtful, problems: faults.map((fault) => problemOf(fault, file)) };
}

/** Remembers what it read of each register until the file changes, for a program that runs on. */
export class Registers {
  private readonly known = new Map<string, { readonly stamp: string; readonly register: Register }>();

  of(folder: string): Register {
    const stamp = `${stampOf(registerFile(folder))} ${stampOf(lastFile(folder))}`;
    const known = this.known.get(folder);
    if (known?.stamp === stamp) return known.register;
    const register = readRegister(folder);
    this.known.set(folder, { stamp, register });
    return register;
  }
}

/** The chain as it stands on disk, for the hands that add to it. */
export function chainOf(folder: string): Chain & { readonly last: Last | undefined } {
  const last = lastOf(folder);
  const file = registerFile(folder);
  return { ...chainIn(file, textOf(file).text, last), last };
}

/** The chain read last, since whoever writes reads what stands there before and after. */
let readLast:
  | { readonly file: string; readonly text: string; readonly last: string; readonly chain: Chain }
  | undefined;

function chainIn(file: string, text: string, last: Last | undefined): Chain {
  const ending = JSON.stringify(last ?? null);
  if (readLast?.file !== file || readLast.last !== ending || readLast.text !== text)
    readLast = { file, text, last: ending, chain: readChain(text, last) };
  return readLast.chain;
}

/** What was written last, as said beside the register; undefined where nothing is said. */
export function lastOf(folder: string): Last | undefined {
  try {
    const { hash, lines } = JSON.parse(readFileSync(lastFile(folder), "utf8")) as Partial<Last>;
    return typeof hash === "string" && typeof lines === "number" ? { hash, lines } : undefined;
  } catch {
    return undefined;
  }
}

function textOf(file: string): { readonly text: string; readonly code?: string } {
  try {
    return { text: readFileSync(file, "utf8") };
  } catch (error) {
    const code = error instanceof Error && "code" in error ? String(error.code) : "";
    return { text: "", code };
  }
}

function stampOf(file: string): string {
  const stat = statSync(file, { throwIfNoEntry: false, bigint: true });
  return stat ? `${stat.ino} ${stat.size} ${stat.mtimeNs}` : "";
}

function problemOf({ id, line, says }: Fault, file: string): Problem {
  const isOfChain = id === "register-broken" || id === "register-cut";
  return {
    severity: isOfChain ? "error" : "warning",
    id,
    message: `line ${line} of the register: ${says}`,
    file,
    line,
    ...(isOfChain
      ? { expected: "the register as it was written; look in a copy or backup from before" }
      : {}),
  };
}

function unreadable(file: string, code: string, last: Last | undefined): Problem {
  const id: RegisterProblemId = code === "ENOENT" ? "register-cut" : "register-unreadable";
  const message =
    code === "ENOENT"
      ? `the register is gone: ${last?.lines ?? 0} lines were written`
      : `the register cannot be read (${code})`;
  return { severity: "error", id, message, file };
}
