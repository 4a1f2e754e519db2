/** A large file written piece by piece that still appears whole or not at all. */
import { closeSync, fsyncSync, openSync, renameSync, rmSync, writeSync } from "node:fs";
import { dirname } from "node:path";
import { modeFor, setMode } from "./mode.js";
import { writing } from "./not-written.js";
import { makeFolder, syncFolder, temporaryBeside } from "./write.js";

const BUFFER_BYTES = 1 << 20;

export interface WholeFile {
  /** Bytes written so far: where the next piece will start. */
  readonly position: number;
  write(bytes: Uint8Array | string): void;
  /** Syncs and gives the file its name, replacing an older one. */
  finish(): void;
  /** Removes what was written; harmless after `finish`. */
  abandon(): void;
}

/** Opens a temporary file beside `file`. Throws NotWritten, after removing the temporary file. */
export function openWholeFile(file: string): WholeFile {
  const folder = dirname(file);
  makeFolder(folder);
  const temporary = temporaryBeside(file);
  const mode = modeFor(file);
  let handle: number | undefined = writing(file, () => openSync(temporary, "wx", 0o600));
  setMode(handle, mode);
  let pending: Uint8Array[] = [];
  let pendingBytes = 0;
  let position = 0;

  const abandon = () => {
    if (handle === undefined) return;
    closeSync(handle);
    handle = undefined;
    rmSync(temporary, { force: true });
  };
  const flush = () => {
    if (handle === undefined) throw new Error("the file is closed");
    const bytes = Buffer.concat(pending, pendingBytes);
    pending = [];
    pendingBytes = 0;
    try {
      const to = handle;
      writing(file, () => {
        for (let done = 0; done < bytes.length; ) done += writeSync(to, bytes, done);
      });
    } catch (error) {
      abandon();
      throw error;
    }
  };
  return {
    get position() {
      return position;
    },
    write(piece) {
      const bytes = typeof piece === "string" ? Buffer.from(piece, "latin1") : piece;
      pending.push(bytes);
      pendingBytes += bytes.length;
      position += bytes.length;
      if (pendingBytes >= BUFFER_BYTES) flush();
    },
    finish() {
      flush();
      if (handle === undefined) return;
      try {
        const to = handle;
        writing(file, () => {
          fsyncSync(to);
          closeSync(to);
          handle = undefined;
          renameSync(temporary, file);
          syncFolder(folder);
        });
      } catch (error) {
        if (handle !== undefined) abandon();
        else rmSync(temporary, { force: true });
        throw error;
      }
    },
    abandon,
  };
}
