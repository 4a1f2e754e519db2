/** Which process made something, and whether it still runs: tells what is in use from what a dead process left. */
import { readFileSync, readlinkSync, statSync } from "node:fs";
import { hostname } from "node:os";
import { sha256 } from "../base/sha256.js";

/** What a process made that cannot be asked for counts as left behind when it has not been touched for this long. */
export const SILENT_MS = 10 * 60_000;

export interface ProcessMark {
  readonly host: string;
  /** Where its number counts: containers on one machine may share its name and not its processes. */
  readonly space: string;
  readonly pid: number;
  /** When the process started, as the system counts it; tells a dead owner from a later process with the same number. */
  readonly started: string;
}

export function thisProcess(): ProcessMark {
  return { host: hostname(), space: ownSpace(), pid: process.pid, started: startOf(process.pid) ?? "" };
}

/**
 * True when the process that made `file` has ended. One of another machine or container cannot be asked for: it shows that it
 * lives by touching the file, and has ended when it has not for ten minutes.
 */
export function hasEnded(owner: ProcessMark, file: string): boolean {
  if (owner.host !== hostname() || owner.space !== ownSpace()) return ageMs(file) > SILENT_MS;
  if (!isAlive(owner.pid)) return true;
  const started = startOf(owner.pid);
  return started !== undefined && owner.started !== "" && started !== owner.started;
}

/** Host, process and start in the letters that a file name may have. */
export function shortMark({ host, space, pid, started }: ProcessMark): string {
  return `${digest(`${host} ${space}`)}-${pid}-${digest(started)}`;
}

/** As `hasEnded`, of a mark in its short form; false when it is none. */
export function hasEndedShort(mark: string, file: string): boolean {
  const [, host, number, started] = /^([0-9a-f]{8})-(\d+)-([0-9a-f]{8})$/u.exec(mark) ?? [];
  if (host === undefined) return false;
  if (host !== digest(`${hostname()} ${ownSpace()}`)) return ageMs(file) > SILENT_MS;
  const pid = Number(number);
  return !isAlive(pid) || digest(startOf(pid) ?? "") !== started;
}

/** Milliseconds since the file was touched; -1 when there is none. */
export function ageMs(file: string): number {
  try {
    return Date.now() - statSync(file).mtimeMs;
  } catch {
    return -1;
  }
}

let space: string | undefined;

/** The kernel's name for the set of processes this one counts in; empty where the system has none. */
function ownSpace(): string {
  try {
    space ??= readlinkSync("/proc/self/ns/pid");
  } catch {
    space = "";
  }
  return space;
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
  } catch (error) {
    if (!(error instanceof Error && "code" in error && error.code === "EPERM")) return false;
  }
  return !/^[ZX]/u.test(statOf(pid) ?? "");
}

/** Start of a process in the kernel's own count, with the boot it belongs to; undefined where the system does not tell. */
function startOf(pid: number): string | undefined {
  try {
    const boot = readFileSync("/proc/sys/kernel/random/boot_id", "utf8").trim();
    const fields = statOf(pid)?.split(" ");
    return fields && `${boot}/${fields[19] ?? ""}`;
  } catch {
    return undefined;
  }
}

/** The fields after the name of the process; the first is its state, Z when it is dead but not yet taken note of. */
function statOf(pid: number): string | undefined {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    return stat.slice(stat.lastIndexOf(")") + 2);
  } catch {
    return undefined;
  }
}

function digest(text: string): string {
  return sha256(text).slice(0, 8);
}
