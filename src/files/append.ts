/** A file that only grows, line by line, each line on disk before the next step is taken. */
import {
  closeSync,
  existsSync,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  openSync,
  readFileSync,
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
  const torn = existsSync(file) && !endsInNewline(readFileSync(file));
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

function endsInNewline(bytes: Buffer): boolean {
  return bytes.length === 0 || bytes[bytes.length - 1] === 0x0a;
}

/** The lines of such a file, a torn last one included; none when there is no file. */
export function readAppended(file: string): string[] {
  return existsSync(file)
    ? readFileSync(file, "utf8")
        .split("\n")
        .filter((line) => line !== "")
    : [];
}
