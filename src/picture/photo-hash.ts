/** The content hash that ties marks to the one picture they were set on. */
import { createHash } from "node:crypto";

/** SHA-256 over the bytes of the photo as it came, in hexadecimal. */
export function photoHash(bytes: Uint8Array): string {
  return createHash("sha256").update(bytes).digest("hex");
}
