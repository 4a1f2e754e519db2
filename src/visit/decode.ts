/** From the bytes of a file to its text, or to the one reason why they are no text. */
import type { Problem } from "../base/problem.js";
import { type ProblemId, problemKind } from "./problems.js";

/** Far more than any visit needs; photographs live in their own files. */
export const MAX_BYTES = 1024 * 1024;

export interface Decoded {
  readonly text?: string;
  readonly problem?: Problem;
}

/** Text of UTF-8 or UTF-16 bytes, without byte order mark. */
export function decodeText(bytes: Uint8Array, file: string): Decoded {
  if (bytes.length > MAX_BYTES) return { problem: tooBig(bytes.length, file) };
  if (isUtf32(bytes)) return stop("not-utf8", file, "the file is UTF-32 text", { line: 1, column: 1 });
  const utf16 = utf16Kind(bytes);
  if (utf16) {
    try {
      return { text: new TextDecoder(utf16, { fatal: true }).decode(bytes) };
    } catch {
      return stop("not-utf8", file, "the file begins as UTF-16 and then holds bytes that are none", {
        line: 1,
        column: 1,
      });
    }
  }
  const zero = bytes.indexOf(0);
  if (zero !== -1)
    return stop("not-text", file, "a zero byte: this is not a text file", placeOf(bytes, zero));
  try {
    return { text: new TextDecoder("utf-8", { fatal: true }).decode(bytes) };
  } catch {
    const at = firstBadByte(bytes);
    const byte = (bytes[at] ?? 0).toString(16).toUpperCase().padStart(2, "0");
    return stop("not-utf8", file, `a byte (${byte}) that is not UTF-8`, placeOf(bytes, at));
  }
}

/** The problem of a file of so many bytes. */
export function tooBig(bytes: number, file: string): Problem {
  return fileProblem(
    "file-too-big",
    file,
    `${(bytes / MAX_BYTES).toFixed(1)} MiB are more than a visit's 1 MiB`,
  );
}

/** A problem of the file as a whole. */
export function fileProblem(id: ProblemId, file: string, message: string): Problem {
  return { severity: problemKind(id).severity, id, message, file };
}

function stop(
  id: ProblemId,
  file: string,
  message: string,
  place?: { line: number; column: number },
): Decoded {
  return { problem: { ...fileProblem(id, file, message), ...place, expected: problemKind(id).cure } };
}

/** By its mark, or by three zeros in each of the first characters. */
function isUtf32(bytes: Uint8Array): boolean {
  const [a, b, c, d, e, f, g, h] = bytes;
  const marked =
    (a === 0xff && b === 0xfe && c === 0 && d === 0) || (a === 0 && b === 0 && c === 0xfe && d === 0xff);
  const little = a !== 0 && b === 0 && c === 0 && d === 0 && e !== 0 && f === 0 && g === 0 && h === 0;
  const big = a === 0 && b === 0 && c === 0 && d !== 0 && e === 0 && f === 0 && g === 0 && h !== 0;
  return bytes.length >= 8 && bytes.length % 4 === 0 && (marked || little || big);
}

/** By its mark, or by a zero in every second of the first bytes. */
function utf16Kind(bytes: Uint8Array): "utf-16le" | "utf-16be" | undefined {
  const [a, b, c, d] = bytes;
  if (a === 0xff && b === 0xfe) return "utf-16le";
  if (a === 0xfe && b === 0xff) return "utf-16be";
  if (bytes.length < 4 || bytes.length % 2 !== 0) return undefined;
  if (a !== 0 && b === 0 && c !== 0 && d === 0) return "utf-16le";
  if (a === 0 && b !== 0 && c === 0 && d !== 0) return "utf-16be";
  return undefined;
}

/** The first byte at which decoding fails, found by halving. */
function firstBadByte(bytes: Uint8Array): number {
  let good = 0;
  let bad = bytes.length;
  while (bad - good > 1) {
    const middle = (good + bad) >> 1;
    if (decodes(bytes.subarray(0, middle))) good = middle;
    else bad = middle;
  }
  // What decodes as a stream may end inside a letter, and that letter is the faulty one.
  while (good > 0 && !decodes(bytes.subarray(0, good), false)) good--;
  return good;
}

/** As a stream, a letter cut off at the end is no fault. */
function decodes(bytes: Uint8Array, stream = true): boolean {
  try {
    new TextDecoder("utf-8", { fatal: true }).decode(bytes, { stream });
    return true;
  } catch {
    return false;
  }
}

function placeOf(bytes: Uint8Array, offset: number): { line: number; column: number } {
  const before = new TextDecoder("utf-8").decode(bytes.subarray(0, offset));
  const lines = before.split(/\r\n|\r|\n/u);
  return { line: lines.length, column: (lines.at(-1)?.length ?? 0) + 1 };
}
