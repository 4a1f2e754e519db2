/** Runs the built command: in a thread that keeps it loaded, or in a process of its own where that is what is tested. */
import { fork, spawnSync } from "node:child_process";
import { once } from "node:events";
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

const warm = join(root, "tests", "cli", "warm-whorl.mjs");
const command = join(root, "dist", "command", "main.js");

/** A process that stays loaded and runs the command in the folders it is told, with nobody at the keyboard. */
export function warmProcess(env: Record<string, string> = {}): {
  run: (folder: string, args: readonly string[]) => Promise<Ran>;
  end: () => Promise<unknown>;
} {
  const child = fork(warm, [command], {
    stdio: ["ignore", "inherit", "inherit", "ipc"],
    env: { ...withoutColour, ...env },
    execArgv: [],
  });
  const gone = once(child, "exit");
  const lost = gone.then(() => Promise.reject(new Error("the command ended its process")));
  lost.catch(() => {});
  return {
    run: async (folder, args) => {
      child.send({ args, folder });
      const [ran] = (await Promise.race([once(child, "message"), lost])) as [Ran];
      return ran;
    },
    end: () => {
      child.disconnect();
      return gone;
    },
  };
}

const { port1: port, port2: theirs } = new MessageChannel();
let isStarted = false;

function start(): void {
  const thread = new Worker(warm, {
    workerData: { command, port: theirs },
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
