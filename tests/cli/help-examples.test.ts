/** What the help of a command shows is tried as it stands, in a clinic with a register. */
import { cpSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { scratch } from "../batch/command.js";
import { clinic, patients, type Ran, whorl } from "./run-whorl.js";

const COMMANDS = [
  "batch",
  "proof",
  "sign",
  "register",
  "register show",
  "register withdraw",
  "register merge",
  "sent",
  "send",
  "due",
  "audit",
  "gather-patient",
  "erase-patient",
];

const folder = join(scratch(), "clinic");

/** As a person types it there. */
function typed(args: readonly string[]): Ran {
  const before = process.cwd();
  process.chdir(folder);
  try {
    return whorl(args);
  } finally {
    process.chdir(before);
  }
}

/** The words of a line, quoted ones whole, up to where the shell sends the output elsewhere. */
function wordsOf(line: string): string[] {
  return [...line.replace(/ > .*$/u, "").matchAll(/"([^"]*)"|(\S+)/gu)].map((m) => m[1] ?? m[2] ?? "");
}

function examplesOf(command: string): string[] {
  const { out } = whorl([...command.split(" "), "--help"]);
  const part = /\nExamples?:\n((?: {2}whorl .*\n?)+)/u.exec(out)?.[1] ?? "";
  return part
    .trim()
    .split("\n")
    .map((line) => line.trim());
}

beforeAll(() => {
  mkdirSync(join(folder, "patients"), { recursive: true });
  cpSync(clinic, join(folder, "clinic.yaml"));
  cpSync(join(patients, "TS-40417"), join(folder, "patients", "TS-40417"), { recursive: true });
  // A clinic of its own, as its clinic file says.
  cpSync(join(folder, "patients"), join(folder, "visits"), { recursive: true });
  cpSync(clinic, join(folder, "visits", "clinic.yaml"));
  cpSync(join(patients, "TS-40588", "2026-07-14.yaml"), join(folder, "visit.yaml"));
  writeFileSync(join(folder, "pass.txt"), "corvid lantern sill\n");
  for (const table of ["today", "week"])
    writeFileSync(join(folder, `${table}.csv`), "visit\nvisits/TS-40417/2026-03-12.yaml\n");
  typed(["register", ".", "--begin"]);
});

/** What `register` shows stands in the help of its own commands as well. */
const tried = new Set<string>();

/** Letters of another source would rightly be left alone. */
function lettersFor(line: string): void {
  rmSync(join(folder, "letters"), { recursive: true, force: true });
  const batch = (...more: string[]) =>
    typed(["batch", "week.csv", "--out", "letters", "--jobs", "1", ...more]);
  if (line.startsWith("whorl proof")) batch();
  if (line.includes("--gather")) for (const part of ["1/2", "2/2"]) batch("--shard", part);
}

describe.each(COMMANDS)("the help of whorl %s", (name) => {
  const examples = examplesOf(name);

  it("shows examples of the command itself", () => {
    expect(examples.length).toBeGreaterThan(0);
    for (const line of examples) expect(line.startsWith(`whorl ${name.split(" ")[0]}`)).toBe(true);
  });

  const fresh = examples.filter((line) => !tried.has(line));
  for (const line of fresh) tried.add(line);

  it.each(fresh)("%s", (line) => {
    lettersFor(line);
    const args = wordsOf(line).slice(1);
    const { code, out, err } = typed(args);
    // Nothing is asked where nobody sits; a command that needs an answer says so.
    if (args.includes("--ask-password")) expect(err).toContain("password");
    else expect([0, 1], `${out}${err}`).toContain(code);
    expect(err).not.toContain("Whorl itself failed");
    if (args.includes("--json") && code === 0) JSON.parse(out);
  });

  it("ends with 2 at an option that it does not have", () => {
    const { code, err } = whorl([...name.split(" "), "--no-such-option"]);
    expect(code).toBe(2);
    expect(err).toMatch(/unknown option|required/u);
  });
});

describe("the result as JSON", () => {
  const has = (command: string) => whorl([...command.split(" "), "--help"]).out.includes("--json");

  it("is offered by every command that tells something", () => {
    expect(COMMANDS.filter((command) => !has(command))).toEqual([]);
  });
});
