/**
 * Extracts of visits that were weighed before, by the hash of their text: weighing five thousand visits takes most of a minute,
 * and of a clinic's visits few change from day to day. The file lies hidden in the clinic's own folder and may be deleted at any time.
 */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { sha256 } from "../base/sha256.js";
import { EXTRACT_EDITION, type Extract } from "../due/extract.js";
import { NotWritten } from "../files/not-written.js";
import { writeWhole } from "../files/write.js";
import { packageVersion } from "./fingerprint.js";

/** Beside the clinic file. */
export const EXTRACTS_FILE = join(".whorl", "extracts.json");

/** Fewer are weighed in a second or two; then nothing need be kept. */
const WORTH_KEEPING = 150;

export class KeptExtracts {
  private readonly before: ReadonlyMap<string, Extract>;
  private readonly used = new Map<string, Extract>();
  private isChanged = false;
  private readonly file: string;
  private readonly mark: string;

  /** `knowledge` is the hash of the knowledge by which visits are weighed: by another, every extract is made anew. */
  constructor(folder: string, knowledge: string) {
    this.file = join(folder, EXTRACTS_FILE);
    this.mark = sha256(JSON.stringify([EXTRACT_EDITION, packageVersion(), knowledge]));
    this.before = this.read();
  }

  of(hash: string, make: () => Extract | undefined): Extract | undefined {
    const known = this.used.get(hash) ?? this.before.get(hash);
    const extract = known ?? make();
    if (extract) this.used.set(hash, extract);
    if (!known && extract) this.isChanged = true;
    return extract;
  }

  /** Writes what was used, and what was known before where only part of the clinic was looked at. A folder that cannot be written in is left alone. */
  keep(isWhole: boolean): void {
    const gone = isWhole && this.before.size > this.used.size;
    if ((!this.isChanged && !gone) || this.used.size < WORTH_KEEPING) return;
    const body = JSON.stringify(Object.fromEntries(isWhole ? this.used : [...this.before, ...this.used]));
    try {
      writeWhole(this.file, `${this.mark} ${sha256(body)}\n${body}`);
    } catch (error) {
      if (!(error instanceof NotWritten)) throw error;
    }
  }

  /** Nothing where the file is missing, of another version, or not as it was written. */
  private read(): ReadonlyMap<string, Extract> {
    let text: string;
    try {
      text = readFileSync(this.file, "utf8");
    } catch {
      return new Map();
    }
    const end = text.indexOf("\n");
    const body = text.slice(end + 1);
    if (text.slice(0, end) !== `${this.mark} ${sha256(body)}`) return new Map();
    return new Map(Object.entries(JSON.parse(body) as Record<string, Extract>));
  }
}
