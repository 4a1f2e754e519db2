/** One run at a time in a folder. A lock whose owner is dead is taken over; a living owner is named. */
import { randomBytes } from "node:crypto";
import {
  closeSync,
  fsyncSync,
  linkSync,
  openSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeSync,
} from "node:fs";
import { hostname } from "node:os";
import { dirname, join } from "node:path";
import { makeFolder } from "./write.js";

/** A lock of another machine counts as dead when its owner has not touched it for this long. */
const SILENT_MS = 10 * 60_000;
const TOUCH_MS = 60_000;
/** Taking over takes microseconds; a takeover mark this old was left by a killed process. */
const TAKEOVER_MS = 10_000;

export interface LockOwner {
  readonly host: string;
  readonly pid: number;
  /** When the process started, as the system counts it; tells a dead owner from a later process with the same number. */
  readonly started: string;
  readonly token: string;
}

export interface Lock {
  /** Gives the folder free; harmless when another run has taken it over. */
  release(): void;
}

/** Takes the lock `file`, or says who holds it. */
export function takeLock(file: string): { lock: Lock } | { heldBy: LockOwner | undefined } {
  makeFolder(dirname(file));
  const own: LockOwner = {
    host: hostname(),
    pid: process.pid,
    started: startOf(process.pid) ?? "",
    token: randomBytes(8).toString("hex"),
  };
  // The third try is for a lock that its owner released in between.
  if (!create(file, own) && !takeOver(file, own) && !create(file, own)) return { heldBy: readOwner(file) };
  const touch = setInterval(() => {
    try {
      const now = new Date();
      utimesSync(file, now, now);
    } catch {
      // The lock was removed by hand; the run goes on, its journal stays whole.
    }
  }, TOUCH_MS);
  touch.unref();
  return {
    lock: {
      release() {
        clearInterval(touch);
        if (readOwner(file)?.token === own.token) rmSync(file, { force: true });
      },
    },
  };
}

/** The lock appears with its content or not at all, and only where there is none. */
function create(file: string, own: LockOwner): boolean {
  const temporary = join(dirname(file), `.whorl-${randomBytes(6).toString("hex")}.part`);
  const handle = openSync(temporary, "wx", 0o600);
  try {
    writeSync(handle, JSON.stringify(own));
    fsyncSync(handle);
    linkSync(temporary, file);
    return true;
  } catch (error) {
    if (codeOf(error) === "EEXIST") return false;
    throw error;
  } finally {
    closeSync(handle);
    rmSync(temporary, { force: true });
  }
}

/** Only one process at a time may judge a lock stale and replace it, or two would each remove the other's new lock. */
function takeOver(file: string, own: LockOwner): boolean {
  if (!isStale(file)) return false;
  const mark = `${file}.takeover`;
  if (ageMs(mark) > TAKEOVER_MS) rmSync(mark, { force: true });
  if (!create(mark, own)) return false;
  try {
    if (!isStale(file)) return false;
    rmSync(file, { force: true });
    return create(file, own);
  } finally {
    rmSync(mark, { force: true });
  }
}

function isStale(file: string): boolean {
  const owner = readOwner(file);
  if (owner === undefined) return ageMs(file) > TAKEOVER_MS;
  if (owner.host !== hostname()) return ageMs(file) > SILENT_MS;
  if (!isAlive(owner.pid)) return true;
  const started = startOf(owner.pid);
  return started !== undefined && owner.started !== "" && started !== owner.started;
}

function readOwner(file: string): LockOwner | undefined {
  try {
    const value: unknown = JSON.parse(readFileSync(file, "utf8"));
    if (typeof value !== "object" || value === null) return undefined;
    const { host, pid, started, token } = value as Partial<LockOwner>;
    return typeof host === "string" && typeof pid === "number" && typeof token === "string"
      ? { host, pid, started: started ?? "", token }
      : undefined;
  } catch {
    return undefined;
  }
}

/** Milliseconds since the file was touched; -1 when there is none. */
function ageMs(file: string): number {
  try {
    return Date.now() - statSync(file).mtimeMs;
  } catch {
    return -1;
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return codeOf(error) === "EPERM";
  }
}

/** Start of a process in the kernel's own count, with the boot it belongs to; undefined where the system does not tell. */
function startOf(pid: number): string | undefined {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    const boot = readFileSync("/proc/sys/kernel/random/boot_id", "utf8").trim();
    const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
    return `${boot}/${fields[19] ?? ""}`;
  } catch {
    return undefined;
  }
}

function codeOf(error: unknown): string {
  return error instanceof Error && "code" in error ? String(error.code) : "";
}
