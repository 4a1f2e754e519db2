/** Adds lines to a clinic's register, one program at a time, each line on disk before the return. */
import { lastLineOf, openAppended } from "../files/append.js";
import { type Lock, takeLock } from "../files/lock.js";
import { NotWritten } from "../files/not-written.js";
import { writeWhole } from "../files/write.js";
import { RegisterBusy } from "./busy.js";
import type { CallerEntry, RegisterEntry, RegisterLine } from "./line.js";
import { lastFile, lockFile, registerFile } from "./places.js";
import { chainOf, lastOf } from "./read.js";
import { parseLine, type StoredLine, saltOf, storedLine, writeLine } from "./stored.js";

/** Writing a line takes milliseconds; whoever holds the register for so long is stuck. */
const PATIENCE_MS = 30_000;
const PAUSE_MS = 15;

/**
 * Adds the entries in their order, in one write: after a full disk none of them is there, after a kill the first so many. Begins
 * the register where there is none. On a broken register it goes on after the last line that can be read, and the break stays
 * told. Throws NotWritten or RegisterBusy.
 */
export function appendToRegister(folder: string, entries: readonly CallerEntry[]): RegisterLine[] {
  return entries.length === 0 ? [] : holding(folder, (lock) => addLines(folder, entries, lock));
}

/** Begins the register of a folder; nothing where it has begun. */
export function beginRegister(folder: string): void {
  holding(folder, (lock) => addLines(folder, [], lock));
}

/** Does something while no other program may write the register. */
export function holding<T>(folder: string, work: (lock: Lock) => T): T {
  const file = lockFile(folder);
  const end = Date.now() + PATIENCE_MS;
  for (;;) {
    const taken = takeLock(file);
    if ("lock" in taken) {
      try {
        return work(taken.lock);
      } finally {
        taken.lock.release();
      }
    }
    if (Date.now() > end) throw new RegisterBusy(taken.heldBy?.host ?? "");
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, PAUSE_MS * (1 + Math.random()));
  }
}

/** The caller holds the register. */
export function addLines(folder: string, entries: readonly RegisterEntry[], lock: Lock): RegisterLine[] {
  const { tip, count, missed } = endOf(folder);
  // A last line that is gone or was spoiled is named by the next one, so that it stays missed.
  let previous = [tip, missed].flatMap((hash) => hash ?? []);
  const begun: RegisterEntry[] = previous.length > 0 ? [] : [{ kind: "begun", at: now(), by: "" }];
  const all = [...begun, ...entries];
  if (all.length === 0) return [];
  const stored: StoredLine[] = [];
  for (const entry of all) {
    const line = storedLine(entry, previous, saltOf());
    stored.push(line);
    previous = [line.hash];
  }
  if (lock.isLost()) throw new RegisterBusy("");
  const file = openAppended(registerFile(folder));
  try {
    file.append(stored.map(writeLine).join("\n"));
  } finally {
    file.close();
  }
  try {
    keepLast(folder, stored.at(-1)?.hash ?? "", count + stored.length);
  } catch (error) {
    // The lines are on disk; until the next ones are, only those before are missed when they are cut off.
    if (!(error instanceof NotWritten)) throw error;
  }
  return all
    .map((entry, i) => {
      const { hash = "", previous: before = [] } = stored[i] ?? {};
      return { ...entry, line: count + i + 1, hash, previous: before };
    })
    .slice(begun.length);
}

/** The end of a register, to which the next line is tied; what was written last may be missing from it. */
function endOf(folder: string): { tip?: string; missed?: string; count: number } {
  const last = lastOf(folder);
  const end = last && parseLine(lastLineOf(registerFile(folder)))?.line.hash;
  // As nearly always: nobody need read the rest.
  if (last && end === last.hash) return { tip: end, count: last.lines };
  const { tip, texts, stored } = chainOf(folder);
  const isMissed = last !== undefined && ![...stored.values()].some(({ hash }) => hash === last.hash);
  return {
    count: texts.length,
    ...(tip ? { tip: tip.hash } : {}),
    ...(isMissed ? { missed: last.hash } : {}),
  };
}

/** Says beside the register what its last line is. */
export function keepLast(folder: string, hash: string, lines: number): void {
  writeWhole(lastFile(folder), `${JSON.stringify({ hash, lines })}\n`);
}

/** The moment, in UTC. */
export const now = (): string => new Date().toISOString();
