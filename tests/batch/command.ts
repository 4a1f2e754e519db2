/** Runs the built command as a process of its own, since workers and kills need real ones. */
import { type ChildProcess, execFileSync, spawn, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readdirSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { inPackage, packageRoot } from "../../src/base/root.js";
import { readManifest } from "../../src/batch/manifest.js";
import { takeLock } from "../../src/files/lock.js";

const BIN = inPackage("bin", "whorl.js");

/** Builds dist when a source file is newer; one test process at a time. */
export async function ensureBuilt(): Promise<void> {
  for (;;) {
    const taken = takeLock(inPackage("dist", ".building"));
    if ("lock" in taken) {
      try {
        if (isStale()) build();
      } finally {
        taken.lock.release();
      }
      return;
    }
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

function build(): void {
  try {
    execFileSync(
      process.execPath,
      [inPackage("node_modules", "typescript", "bin", "tsc"), "-p", "tsconfig.json"],
      {
        cwd: packageRoot,
        stdio: "ignore",
      },
    );
  } catch {
    // Type errors are for the type check; the compiler writes its output all the same.
  }
  execFileSync("npm", ["run", "-s", "build:command"], { cwd: packageRoot });
}

function isStale(): boolean {
  const built = inPackage("dist", "command", "worker.js");
  if (!existsSync(built)) return true;
  const at = statSync(built).mtimeMs;
  return readdirSync(inPackage("src"), { recursive: true, encoding: "utf8" })
    .filter((f) => f.endsWith(".ts"))
    .some((f) => statSync(inPackage("src", f)).mtimeMs > at);
}

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

export function whorl(...args: string[]): Ran {
  const r = spawnSync(process.execPath, [BIN, ...args], {
    encoding: "utf8",
    env: { ...process.env, NO_COLOR: "1" },
  });
  return { code: r.status, out: r.stdout, err: r.stderr };
}

export function startWhorl(...args: string[]): ChildProcess {
  return spawn(process.execPath, [BIN, ...args], { stdio: "ignore" });
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
