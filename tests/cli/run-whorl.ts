/** Runs the real command in a process of its own. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { root } from "../house/source-files.js";

export const bin = join(root, "bin", "whorl.js");
export const patients = join(root, "examples", "patients");
export const clinic = join(root, "examples", "clinic.yaml");

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

const { FORCE_COLOR: _, ...given } = process.env;
const withoutColour = { ...given, NO_COLOR: "1" };

export function whorl(args: readonly string[], env: Record<string, string> = {}): Ran {
  const result = spawnSync(process.execPath, [bin, ...args], {
    encoding: "utf8",
    env: { ...withoutColour, ...env },
  });
  return { code: result.status, out: result.stdout, err: result.stderr };
}

/** An empty folder that is gone after `use`. */
export function inFolder<T>(use: (folder: string) => T): T {
  const folder = mkdtempSync(join(tmpdir(), "whorl-test-"));
  try {
    return use(folder);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
