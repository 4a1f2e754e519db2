/** A file that only grows, line by line, each line on disk before the next step is taken. */
import { closeSync, existsSync, fsyncSync, openSync, readFileSync, writeSync } from "node:fs";
import { dirname } from "node:path";
import { makeFolder } from "./write.js";

export interface AppendedFile {
  /** Adds one line and waits until it is on disk, unless `sync` is false. Throws the file system's error. */
  append(line: string, options?: { readonly sync: boolean }): void;
  close(): void;
}

/** Opens a file for appending, for its owner only. A last line that a killed run left torn is closed first. */
export function openAppended(file: string): AppendedFile {
  makeFolder(dirname(file));
  const torn = existsSync(file) && !endsInNewline(readFileSync(file));
  const handle = openSync(file, "a", 0o600);
  const put = (text: string) => {
    const bytes = Buffer.from(text, "utf8");
    for (let done = 0; done < bytes.length; ) done += writeSync(handle, bytes, done);
  };
  if (torn) put("\n");
  return {
    append(line, { sync } = { sync: true }) {
      put(`${line}\n`);
      if (sync) fsyncSync(handle);
    },
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
