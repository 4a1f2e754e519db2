/** Runs the built command, in a thread kept warm or in a process of its own, and reads what a batch leaves. */
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, readdirSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { readManifest } from "../../src/batch/manifest.js";
import { bin, type Ran, whorl as run, whorlProcess as runProcess } from "../cli/run-whorl.js";

/** As a user starts it, workers and all. */
export const whorlProcess = (...args: string[]): Ran => runProcess(args);

/** The same command line in a warm thread of this process, its workers in that thread too. */
export const whorl = (...args: string[]): Ran => run(args);

export function startWhorl(...args: string[]): ChildProcess {
  return spawn(process.execPath, [bin, ...args], { stdio: "ignore" });
}

export function ended(child: ChildProcess): Promise<number | null> {
  return new Promise((resolve) => child.once("exit", (code) => resolve(code)));
}

export function scratch(): string {
  return mkdtempSync(join(tmpdir(), "whorl-test-"));
}

/** Every file below a folder, with `/`, sorted; hidden ones left out. */
export function filesBelow(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((e) => e.isFile())
    .map((e) => join(e.parentPath, e.name).slice(folder.length + 1))
    .filter((f) => !f.split("/").some((part) => part.startsWith(".")))
    .sort();
}

export function manifestOf(folder: string) {
  const manifest = readManifest(folder);
  if (!manifest) throw new Error(`no manifest in ${folder}`);
  return manifest;
}
