/** Runs the command as a user does and measures it: what it took it tells itself at its end, which a look from outside would miss. */
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { pathToFileURL } from "node:url";
import { inPackage } from "../../src/base/root.js";

export interface CommandRun {
  readonly seconds: number;
  /** Largest resident memory in MB. */
  readonly peakMb: number;
  /** Processor time of all threads. */
  readonly cpuSeconds: number;
}

/** Linux counts processor time in hundredths of a second. */
const TICKS_A_SECOND = 100;

/** User and system time of a living process. */
function cpuOf(pid: number): number | undefined {
  try {
    // The name of the command stands in brackets and may hold spaces.
    const fields = readFileSync(`/proc/${pid}/stat`, "utf8").replace(/^.*\)/s, "").trim().split(" ");
    return (Number(fields[11]) + Number(fields[12])) / TICKS_A_SECOND;
  } catch {
    return undefined;
  }
}

const LOOK_EVERY_MS = 50;

const REPORT = pathToFileURL(inPackage("tests", "bench", "report-usage.mjs")).href;

/** `look` is called every 50 ms while the command runs, with the processor time so far. Throws when the command fails, with what it said. */
export function runCommand(
  args: readonly string[],
  look?: (cpuSeconds: number | undefined) => void,
): Promise<CommandRun> {
  return runScript(inPackage("bin", "whorl.js"), args, look);
}

/** As `runCommand`, for a script of one's own. */
export function runScript(
  script: string,
  args: readonly string[] = [],
  look?: (cpuSeconds: number | undefined) => void,
): Promise<CommandRun> {
  const start = performance.now();
  const child = spawn(process.execPath, [script, ...args], {
    stdio: ["ignore", "ignore", "pipe", "pipe"],
    env: { ...process.env, NODE_OPTIONS: `${process.env.NODE_OPTIONS ?? ""} --import=${REPORT}` },
  });
  let said = "";
  let told = "";
  child.stderr?.on("data", (chunk) => {
    said += String(chunk);
  });
  child.stdio[3]?.on("data", (chunk) => {
    told += String(chunk);
  });
  const watch = look && setInterval(() => look(cpuOf(child.pid ?? 0)), LOOK_EVERY_MS);
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (code) => {
      clearInterval(watch);
      if (code !== 0) return reject(new Error(`${script} ${args.join(" ")} ended with ${code}: ${said}`));
      const { cpuMs, peakMb } = JSON.parse(told) as { cpuMs: number; peakMb: number };
      resolve({ seconds: (performance.now() - start) / 1000, peakMb, cpuSeconds: cpuMs / 1000 });
    });
  });
}
