/** Runs the built command: in a thread that keeps it loaded, or in a process of its own where that is what is tested. */
import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { MessageChannel, receiveMessageOnPort, Worker } from "node:worker_threads";
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

/** As a user starts it: for exit codes, signals, surroundings, and what two processes have in common. */
export function whorlProcess(args: readonly string[], env: Record<string, string> = {}): Ran {
  const result = spawnSync(process.execPath, [bin, ...args], {
    encoding: "utf8",
    env: { ...withoutColour, ...env },
  });
  return { code: result.status, out: result.stdout, err: result.stderr };
}

const { port1: port, port2: theirs } = new MessageChannel();
let isStarted = false;

function start(): void {
  const thread = new Worker(join(root, "tests", "cli", "warm-whorl.mjs"), {
    workerData: { command: join(root, "dist", "command", "main.js"), port: theirs },
    transferList: [theirs],
    env: withoutColour,
    execArgv: [],
  });
  // The test process need not wait for it.
  thread.unref();
  port.unref();
  isStarted = true;
}

/** The same command line in a warm thread of this process. */
export function whorl(args: readonly string[]): Ran {
  if (!isStarted) start();
  const signal = new Int32Array(new SharedArrayBuffer(4));
  port.postMessage({ args, signal });
  Atomics.wait(signal, 0, 0);
  const answer: { message: Ran } | undefined = receiveMessageOnPort(port);
  if (!answer) throw new Error("the command gave no answer");
  return answer.message;
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
