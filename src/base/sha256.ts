/** The hash by which files, lines and documents are told apart. */
import { createHash } from "node:crypto";

/** In hexadecimal. */
export function sha256(bytes: string | Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}
