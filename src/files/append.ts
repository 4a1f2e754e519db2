/** A file that only grows, line by line, each line on disk before the next step is taken. */
import {
  closeSync,
  existsSync,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  readFileSync,
  readSync,
  writeSync,
} from "node:fs";
import { dirname } from "node:path";
import { modeFor, setMode } from "./mode.js";
import { writing } from "./not-written.js";
import { makeFolder } from "./write.js";

export interface AppendedFile {
  /** Adds one line and waits until it is on disk. Throws NotWritten; then nothing of the line is left in the file. */
  append(line: string): void;
  close(): void;
}

/** Opens a file for appending. A last line that a killed run left torn is closed first. */
export function openAppended(file: string): AppendedFile {
  makeFolder(dirname(file));
  const torn = existsSync(file) && !/^(?:\n|)$/u.test(tailOf(file, 1).text);
  const mode = modeFor(file);
  const handle = writing(file, () => openSync(file, "a", 0o600));
  setMode(handle, mode);
  const put = (text: string) =>
    writing(file, () => {
      const bytes = Buffer.from(text, "utf8");
      const { size } = fstatSync(handle);
      try {
        for (let done = 0; done < bytes.length; ) done += writeSync(handle, bytes, done);
        fsyncSync(handle);
      } catch (error) {
        // A full disk takes half a line, and the next line would be lost behind it.
        ftruncateSync(handle, size);
        throw error;
      }
    });
  if (torn) put("\n");
  return {
    append: (line) => put(`${line}\n`),
    close: () => closeSync(handle),
  };
}

/** More than a line of any such file holds. */
const TAIL_BYTES = 1 << 16;

/** The last line of such a file, where it ends as it should and is not too long; else nothing. Reads the end alone. */
export function lastLineOf(file: string): string {
  if (!existsSync(file)) return "";
  const { text, isWhole } = tailOf(file, TAIL_BYTES);
  if (!text.endsWith("\n")) return "";
  const start = text.lastIndexOf("\n", text.length - 2);
  return start < 0 && !isWhole ? "" : text.slice(start + 1, -1);
}

/** The last so many bytes. */
function tailOf(file: string, most: number): { readonly text: string; readonly isWhole: boolean } {
  const handle = openSync(file, "r");
  try {
    const { size } = fstatSync(handle);
    const tail = Buffer.alloc(Math.min(size, most));
    const read = readSync(handle, tail, 0, tail.length, size - tail.length);
    return { text: tail.toString("utf8", 0, read), isWhole: size <= most };
  } finally {
    closeSync(handle);
  }
}

/** The lines of such a file, a torn last one included; none when there is no file. */
export function readAppended(file: string): string[] {
  return existsSync(file)
    ? readFileSync(file, "utf8")
        .split("\n")
        .filter((line) => line !== "")
    : [];
}
