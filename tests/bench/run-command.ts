/** Runs the command as a user does and measures it from outside. */
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { inPackage } from "../../src/base/root.js";

export interface CommandRun {
  readonly seconds: number;
  /** Largest resident memory in MB; undefined where the system does not tell. */
  readonly peakMb: number | undefined;
  /** Processor time of all threads until shortly before the end; undefined where the system does not tell. */
  readonly cpuSeconds: number | undefined;
}

/** Highest memory of a living process, all threads together, as Linux counts it. */
function peakOf(pid: number): number | undefined {
  try {
    const kilobytes = /^VmHWM:\s+(\d+) kB/m.exec(readFileSync(`/proc/${pid}/status`, "utf8"))?.[1];
    return kilobytes === undefined ? undefined : Number(kilobytes) / 1024;
  } catch {
    return undefined;
  }
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

/** `look` is called every 50 ms while the command runs, with the processor time so far. Throws when the command fails, with what it said. */
export function runCommand(
  args: readonly string[],
  look?: (cpuSeconds: number | undefined) => void,
): Promise<CommandRun> {
  const start = performance.now();
  const child = spawn(process.execPath, [inPackage("bin", "whorl.js"), ...args], {
    stdio: ["ignore", "ignore", "pipe"],
  });
  let said = "";
  let peakMb: number | undefined;
  let cpuSeconds: number | undefined;
  child.stderr.on("data", (chunk) => {
    said += String(chunk);
  });
  const watch = setInterval(() => {
    peakMb = peakOf(child.pid ?? 0) ?? peakMb;
    cpuSeconds = cpuOf(child.pid ?? 0) ?? cpuSeconds;
    look?.(cpuSeconds);
  }, LOOK_EVERY_MS);
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (code) => {
      clearInterval(watch);
      if (code === 0) resolve({ seconds: (performance.now() - start) / 1000, peakMb, cpuSeconds });
      else reject(new Error(`whorl ${args.join(" ")} ended with ${code}: ${said}`));
    });
  });
}
