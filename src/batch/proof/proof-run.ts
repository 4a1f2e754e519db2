/** A print run on disk, held against the one that the folder's letters give now: byte for byte, without holding either in memory. */
import { closeSync, fstatSync, openSync, readSync } from "node:fs";
import type { Manifest } from "../manifest.js";
import { type Reason, reason } from "../outcome.js";
import { PRINT_RUN_MARK, readMark } from "../print-run/mark.js";

/** The first bytes of a file that hold its mark. */
const HEAD = 400;

/** True for a file that says it is a print run. */
export function isPrintRun(file: string): boolean {
  return headOf(file).includes(PRINT_RUN_MARK);
}

/** Pages, their order, blank backs and the end of the file are as they would be made now; nothing where they are. */
export async function proofRun(folder: string, manifest: Manifest, file: string): Promise<Reason[]> {
  const how = readMark(headOf(file));
  if (!how) return [reason("print-run-differs", "it does not say how it was made")];
  const { joinRun, NotAsMade } = await import("../print-run/print-run.js");
  const compared = new Compared(file);
  try {
    await joinRun(folder, manifest, how, compared);
    return compared.isWhole() ? [] : [reason("print-run-differs")];
  } catch (error) {
    if (!(error instanceof NotAsMade)) throw error;
    return [reason("print-run-differs", `${error.file} is not as it was made`)];
  } finally {
    compared.close();
  }
}

function headOf(file: string): string {
  const head = Buffer.alloc(HEAD);
  const handle = openSync(file, "r");
  try {
    return head.subarray(0, readSync(handle, head, 0, HEAD, 0)).toString("latin1");
  } finally {
    closeSync(handle);
  }
}

/** Takes the pieces of a file and compares each with what stands in its place. */
class Compared {
  position = 0;
  private isSame = true;
  private readonly handle: number;

  constructor(file: string) {
    this.handle = openSync(file, "r");
  }

  write(piece: Uint8Array | string): void {
    const wanted = typeof piece === "string" ? Buffer.from(piece, "latin1") : Buffer.from(piece);
    if (this.isSame) {
      const found = Buffer.alloc(wanted.length);
      const read = readSync(this.handle, found, 0, found.length, this.position);
      this.isSame = read === wanted.length && found.equals(wanted);
    }
    this.position += wanted.length;
  }

  isWhole(): boolean {
    return this.isSame && fstatSync(this.handle).size === this.position;
  }

  close(): void {
    closeSync(this.handle);
  }
}
