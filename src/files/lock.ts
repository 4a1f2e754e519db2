/** One run at a time in a folder. A lock whose owner is dead is taken over; a living owner is named. */
import { randomBytes } from "node:crypto";
import {
  closeSync,
  fsyncSync,
  linkSync,
  openSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeSync,
} from "node:fs";
import { basename, dirname, join } from "node:path";
import { codeOf, writing } from "./not-written.js";
import { ageMs, hasEnded, type ProcessMark, thisProcess } from "./running.js";
import { makeFolder, temporaryBeside } from "./write.js";

const TOUCH_MS = 60_000;
/** A lock that cannot be read is somebody's mistake; so old, it is nobody's any more. */
const UNREADABLE_MS = 10_000;
/** Rights of takers-over that died one after the other in the microseconds a takeover needs. */
const MOST_RIGHTS = 4;

export interface LockOwner extends ProcessMark {
  readonly token: string;
}

export interface Lock {
  /** Gives the folder free; harmless when another run has taken it over. */
  release(): void;
}

/** Takes the lock `file`, or says who holds it. Throws NotWritten. */
export function takeLock(file: string): { lock: Lock } | { heldBy: LockOwner | undefined } {
  makeFolder(dirname(file));
  const own: LockOwner = { ...thisProcess(), token: randomBytes(8).toString("hex") };
  // The last try is for a lock that its owner released in between.
  if (!acquire(file, own) && !create(file, own)) return { heldBy: readOwner(file) };
  clearRights(file);
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

/**
 * Only one process may replace a given dead lock, or two would each remove the other's new one. The right to do so is itself a
 * lock, named after the dead one, so that it can never be taken for another; and the right of a taker that died is taken over
 * in the same way.
 */
function acquire(file: string, own: LockOwner, depth = 0): boolean {
  if (create(file, own)) return true;
  const held = readOwner(file);
  const isStale = held ? hasEnded(held, file) : ageMs(file) > UNREADABLE_MS;
  if (!isStale || depth === MOST_RIGHTS) return false;
  const token = held?.token ?? "";
  const right = `${file}.after-${token}`;
  if (!acquire(right, own, depth + 1)) return false;
  try {
    // Another may have taken it over while the right was sought.
    if ((readOwner(file)?.token ?? "") !== token) return false;
    rmSync(file, { force: true });
    return create(file, own);
  } finally {
    rmSync(right, { force: true });
  }
}

/** The lock appears with its content or not at all, and only where there is none. */
function create(file: string, own: LockOwner): boolean {
  return writing(file, () => {
    const temporary = temporaryBeside(file);
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
  });
}

/** Removes rights to replace locks that are no more; who still holds one sees that its lock has changed. */
function clearRights(file: string): void {
  const start = `${basename(file)}.after-`;
  const folder = dirname(file);
  for (const name of readdirSync(folder))
    if (name.startsWith(start)) rmSync(join(folder, name), { force: true });
}

function readOwner(file: string): LockOwner | undefined {
  try {
    const value: unknown = JSON.parse(readFileSync(file, "utf8"));
    if (typeof value !== "object" || value === null) return undefined;
    const { host, pid, started, token } = value as Partial<LockOwner>;
    return typeof host === "string" && typeof pid === "number" && typeof token === "string"
      ? { host, pid, started: started ?? "", token: /^[\w-]{1,64}$/u.test(token) ? token : "" }
      : undefined;
  } catch {
    return undefined;
  }
}
