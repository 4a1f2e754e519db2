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
import { ageMs, hasEnded, type ProcessMark, SILENT_MS, thisProcess } from "./running.js";
import { makeFolder, temporaryBeside } from "./write.js";

/** A living owner shows itself far more often than it may be silent. */
const TOUCH_MS = SILENT_MS / 40;
/** What a disk without hard links answers. */
const NO_LINKS = new Set(["EPERM", "ENOTSUP", "EOPNOTSUPP", "ENOSYS", "EINVAL", "EXDEV"]);
/** A lock that cannot be read is somebody's mistake; so old, it is nobody's any more. */
const UNREADABLE_MS = 10_000;
/** Rights of takers-over that died one after the other in the microseconds a takeover needs. */
const MOST_RIGHTS = 4;

export interface LockOwner extends ProcessMark {
  readonly token: string;
}

export interface Lock {
  /** True when another run has taken it over, as after a long sleep of the machine. */
  isLost(): boolean;
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
  const isLost = () => (readOwner(file)?.token ?? own.token) !== own.token;
  const touch = setInterval(() => {
    try {
      if (isLost()) return;
      const now = new Date();
      utimesSync(file, now, now);
    } catch {
      // The lock was removed by hand; the run goes on, its journal stays whole.
    }
  }, TOUCH_MS);
  touch.unref();
  return {
    lock: {
      isLost,
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
      if (NO_LINKS.has(codeOf(error))) return createPlainly(file, own);
      throw error;
    } finally {
      closeSync(handle);
      rmSync(temporary, { force: true });
    }
  });
}

/** Without hard links the lock stands empty for a moment; until it is old, nobody takes an empty one over. */
function createPlainly(file: string, own: LockOwner): boolean {
  let handle: number;
  try {
    handle = openSync(file, "wx", 0o600);
  } catch (error) {
    if (codeOf(error) === "EEXIST") return false;
    throw error;
  }
  try {
    writeSync(handle, JSON.stringify(own));
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
  return true;
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
    const { host, space, pid, started, token } = value as Partial<LockOwner>;
    return typeof host === "string" && typeof pid === "number" && typeof token === "string"
      ? {
          host,
          space: space ?? "",
          pid,
          started: started ?? "",
          token: /^[\w-]{1,64}$/u.test(token) ? token : "",
        }
      : undefined;
  } catch {
    return undefined;
  }
}
