/**
 * Whether a register is the one that was written. Every line names the line before it; lines taken in from another copy stand
 * right before the merged line that lists them. What was written last is known from outside (`last.ts`), so that lines cut off
 * at the end are missed too.
 */

import type { REGISTER_PROBLEMS } from "../base/problem-table.js";
import type { RegisterLine } from "./line.js";
import { openLine, readLine, type StoredLine } from "./stored.js";

export type RegisterProblemId = keyof typeof REGISTER_PROBLEMS;

export interface Fault {
  readonly id: RegisterProblemId;
  /** From 1. */
  readonly line: number;
  readonly says: string;
}

/** The line last written, as kept beside the register. */
export interface Last {
  readonly hash: string;
  readonly lines: number;
}

export interface Chain {
  /** Every line that can be read, by its place in the file. */
  readonly stored: ReadonlyMap<number, StoredLine>;
  /** Lines before the first break. */
  readonly lines: readonly RegisterLine[];
  /** Lines that can be read, from the first break on. */
  readonly doubtful: readonly RegisterLine[];
  readonly faults: readonly Fault[];
  /** The last line that can be read. */
  readonly tip: StoredLine | undefined;
  /** The file line by line, those that cannot be read included. */
  readonly texts: readonly string[];
}

interface Row {
  readonly line: number;
  readonly stored: StoredLine;
  readonly intact: boolean;
  readonly opened: RegisterLine | undefined;
}

/** Reads the text of a register and holds it against itself and what was written last. */
export function readChain(text: string, last: Last | undefined): Chain {
  const texts = text === "" ? [] : text.replace(/\n$/u, "").split("\n");
  const rows: Row[] = [];
  const unread: number[] = [];
  for (const [i, one] of texts.entries()) {
    const read = readLine(one);
    if (!read) unread.push(i + 1);
    else
      rows.push({
        line: i + 1,
        stored: read.line,
        intact: read.intact,
        opened: openLine(read, i + 1),
      });
  }
  const found = [...brokenRows(rows), ...unreadLines(unread, rows, last)];
  const faults = [...found, ...cutOff(rows, texts.length, last, found)];
  const breaks = faults.filter(({ id }) => id === "register-broken" || id === "register-cut");
  const first = Math.min(...breaks.map(({ line }) => line), Number.POSITIVE_INFINITY);
  const opened = rows.flatMap((row) => row.opened ?? []);
  return {
    stored: new Map(rows.map(({ line, stored }) => [line, stored])),
    lines: opened.filter(({ line }) => line < first),
    doubtful: opened.filter(({ line }) => line >= first),
    faults: faults.sort((a, b) => a.line - b.line),
    tip: rows.at(-1)?.stored,
    texts,
  };
}

function brokenRows(rows: readonly Row[]): Fault[] {
  const faults: Fault[] = [];
  const broken = (line: number, says: string) => faults.push({ id: "register-broken", line, says });
  const inside = takenIn(rows);
  const seen = new Set<string>();
  for (const [i, { line, stored, intact, opened }] of rows.entries()) {
    const before = rows[i - 1]?.stored.hash;
    const { previous } = stored;
    if (!intact) broken(line, "its content is not what its hash says");
    else if (!opened) faults.push({ id: "register-newer", line, says: "its kind is not known" });
    if (previous.some((hash) => !seen.has(hash))) broken(line, "it names a line before it that is not there");
    else if (!inside.has(i)) {
      const expected = opened?.kind === "merged" ? previous.at(-1) : previous[0];
      const isAlone = opened?.kind === "merged" || previous.length <= 1;
      if (expected !== before || !isAlone) broken(line, "the line before it is not the one that it names");
    }
    if (opened?.kind === "merged" && !inside.has(i) && !standsBehind(rows, i, opened.joined))
      broken(line, "the lines that it took in do not stand before it as it lists them");
    if (seen.has(stored.hash)) broken(line, "it stands there twice");
    seen.add(stored.hash);
  }
  return faults;
}

/** Places of lines taken in from another copy: the merged line behind them answers for their order. */
function takenIn(rows: readonly Row[]): ReadonlySet<number> {
  const inside = new Set<number>();
  for (let i = rows.length - 1; i > 0; i -= 1) {
    const opened = rows[i]?.opened;
    if (opened?.kind !== "merged" || inside.has(i)) continue;
    for (let back = 1; back <= opened.joined.length && i - back > 0; back += 1) inside.add(i - back);
  }
  return inside;
}

/** A merged line follows its own side's last line, which is its first parent, with what it took in between. */
function standsBehind(rows: readonly Row[], at: number, joined: readonly string[]): boolean {
  const start = at - joined.length;
  const own = rows[at]?.stored.previous[0];
  return (
    start > 0 &&
    joined.every((hash, i) => rows[start + i]?.stored.hash === hash) &&
    rows[start - 1]?.stored.hash === own
  );
}

/** A line that cannot be read was torn when nothing is missing for it; else it was spoiled. */
function unreadLines(unread: readonly number[], rows: readonly Row[], last: Last | undefined): Fault[] {
  const hashes = new Set(rows.map(({ stored }) => stored.hash));
  return unread.map((line) => {
    const next = rows.find((row) => row.line > line)?.stored;
    const isTorn = next
      ? next.previous.every((hash) => hashes.has(hash))
      : last === undefined || hashes.has(last.hash);
    return isTorn
      ? { id: "register-torn", line, says: "it is cut off; nothing stands on it" }
      : { id: "register-broken", line, says: "it cannot be read" };
  });
}

/** A last line that is still there and was changed is told of at its own place. */
function cutOff(
  rows: readonly Row[],
  count: number,
  last: Last | undefined,
  found: readonly Fault[],
): Fault[] {
  if (!last || rows.some(({ stored }) => stored.hash === last.hash)) return [];
  if (found.some(({ id, line }) => id === "register-broken" && line >= last.lines)) return [];
  return [
    {
      id: "register-cut",
      line: Math.min(last.lines, count + 1),
      says: `${last.lines} lines were written, and the last of them is not there`,
    },
  ];
}
