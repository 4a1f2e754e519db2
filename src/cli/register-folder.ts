/** What the commands around the register share: its folder, its troubles, its rows. */
import { resolve } from "node:path";
import type { RegisteredDocument } from "../register/documents.js";
import type { RegisterLine } from "../register/line.js";
import { dayOf } from "../register/pick.js";
import { clinicFolderOf, hasRegister } from "../register/places.js";
import { readRegister } from "../register/read.js";
import { EXIT } from "./context.js";
import { plain } from "./plain.js";
import { showProblems } from "./show-problems.js";

export interface OpenRegister {
  /** Folder of the clinic file. */
  readonly folder: string;
  /** Every line that can be read. */
  readonly lines: readonly RegisterLine[];
  /** True when the register is not as it was written. */
  readonly broken: boolean;
}

/** The register of the clinic that a path belongs to; says what is wrong with it, and undefined where there is none. */
export function openRegister(path: string, { quiet = false } = {}): OpenRegister | undefined {
  const folder = clinicFolderOf(resolve(path));
  if (folder === undefined) {
    process.stderr.write(`${plain(path)} belongs to no clinic: no clinic.yaml lies there or above.\n`);
    return undefined;
  }
  if (!hasRegister(folder)) {
    process.stderr.write(
      `No register has begun in ${plain(folder)}. Signing a visit (whorl sign, or the desk) begins it, or whorl register --begin.\n`,
    );
    return undefined;
  }
  const { lines, doubtful, problems } = readRegister(folder);
  if (problems.length > 0 && !quiet) process.stderr.write(`${showProblems(problems)}\n\n`);
  const broken = problems.some(({ severity }) => severity === "error");
  return { folder, lines: [...lines, ...doubtful], broken };
}

export const codeOf = ({ broken }: OpenRegister): number => (broken ? EXIT.input : EXIT.fine);

/** `2026-03-12  TS-2026-0141  TS-40417  referral-letter 2  Dr Ilse Brandt  sent 2026-03-13 by post  ab12cd34ef` */
export function documentRow({ made, sent, withdrawn, state }: RegisteredDocument): string[] {
  const last = sent.at(-1);
  const left = last ? `sent ${last.on}, ${last.how}, ${last.by}` : "";
  const became: Record<typeof state, string> = {
    waiting: "not sent",
    sent: left,
    replaced: "replaced",
    withdrawn: `withdrawn ${withdrawn ? dayOf(withdrawn.at) : ""}${left ? ` (${left})` : ""}`,
  };
  const kind = made.edition > 1 ? `${made.document}, edition ${made.edition}` : made.document;
  const reader = made.addressee ? `${made.addressee.name}${made.addressee.copy ? " (copy)" : ""}` : "-";
  return [
    dayOf(made.at),
    made.patient,
    made.visit,
    kind,
    reader,
    became[state],
    made.sha256.slice(0, 12),
  ].map(plain);
}

export function documentJson({ made, sent, withdrawn, state }: RegisteredDocument): object {
  const { line, hash, previous: _previous, kind: _kind, by: _by, at, ...document } = made;
  return {
    ...document,
    made_at: at,
    state,
    sent: sent.map(({ at: said_at, by, how, on }) => ({ on, how, by, said_at })),
    withdrawn: withdrawn ? { at: withdrawn.at, by: withdrawn.by, reason: withdrawn.reason } : null,
    line,
    line_hash: hash,
  };
}

/** Rows in columns as wide as their text. */
export function columns(rows: readonly (readonly string[])[]): string {
  const widths = rows.reduce<number[]>(
    (found, row) => row.map((cell, i) => Math.max(found[i] ?? 0, cell.length)),
    [],
  );
  return rows
    .map((row) =>
      row
        .map((cell, i) => cell.padEnd(widths[i] ?? 0))
        .join("  ")
        .trimEnd(),
    )
    .join("\n");
}

/** Asks for a yes in the terminal; without one it is a no. Nothing is taken for granted. */
export async function confirmed(question: string): Promise<boolean> {
  if (!process.stdin.isTTY) return false;
  const { confirm } = await import("@inquirer/prompts");
  try {
    return await confirm({ message: question, default: false });
  } catch (error) {
    if (error instanceof Error && error.name === "ExitPromptError") return false;
    throw error;
  }
}

export function print(text: string): void {
  process.stdout.write(text);
}

export function printJson(value: object): void {
  print(`${JSON.stringify(value, null, 2)}\n`);
}

export function say(text: string): void {
  process.stderr.write(`${text}\n`);
}

export function plural(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? "" : "s"}`;
}
