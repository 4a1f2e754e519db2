/** The cross-validated figures that the README quotes, kept by `npm run evaluate` in a file beside the cases. */
import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { join } from "node:path";

export const CROSSED = "cross-validated.txt";

/** Says which answers of the engine the figures belong to: those of ranks.yaml. */
export const ranksDigest = (folder: string): string =>
  `of ranks.yaml ${createHash("sha256")
    .update(readFileSync(join(folder, "ranks.yaml"), "utf8"))
    .digest("hex")
    .slice(0, 12)}`;
