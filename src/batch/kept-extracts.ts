/**
 * Extracts of visits that were weighed before, by the hash of their text: weighing five thousand visits takes most of a minute,
 * and of a clinic's visits few change from day to day. What a batch weighs for its letters is kept too, so that nothing is weighed
 * twice. The file lies hidden in the clinic's own folder and may be deleted at any time.
 */
import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { sha256 } from "../base/sha256.js";
import type { Scan } from "../clinic-folder/scan.js";
import type { VisitFiles } from "../clinic-folder/visit-files.js";
import { EXTRACT_EDITION, type Extract } from "../due/extract.js";
import { NotWritten } from "../files/not-written.js";
import { liesInside, writeWhole } from "../files/write.js";
import { knowledgeHash } from "../knowledge/load.js";
import { photosOnDisk } from "../visit/beside-photo.js";
import { packageVersion } from "./fingerprint.js";

/** Beside the clinic file. */
export const EXTRACTS_FILE = join(".whorl", "extracts.json");

/** A clinic's fewer visits are weighed in a second or two; then nothing need be kept. */
const WORTH_KEEPING = 150;

/** The text of a visit with the marks on its photos, which count as much as what is typed. */
function keyOf({ file, hash, photos }: Scan): string {
  const { beside, seen } = photosOnDisk(file);
  for (const photo of photos) beside(photo);
  return seen.size === 0 ? hash : sha256([hash, ...seen.values()].join(" "));
}

export class KeptExtracts {
  private readonly before: ReadonlyMap<string, Extract>;
  private readonly used = new Map<string, Extract>();
  private isChanged = false;
  private readonly file: string;
  private readonly mark: string;

  /** `knowledge` is the hash of the knowledge by which visits are weighed: by another, every extract is made anew. */
  constructor(
    private readonly folder: string,
    knowledge: string,
  ) {
    this.file = join(folder, EXTRACTS_FILE);
    this.mark = sha256(JSON.stringify([EXTRACT_EDITION, packageVersion(), knowledge]));
    this.before = this.read();
  }

  of(scan: Scan, make: () => Extract | undefined): Extract | undefined {
    const key = keyOf(scan);
    const known = this.used.get(key) ?? this.before.get(key);
    const extract = known ?? make();
    if (extract) this.used.set(key, extract);
    if (!known && extract) this.isChanged = true;
    return extract;
  }

  /** Writes what was used, and what was known before where only part of the clinic was looked at. A folder that cannot be written in is left alone. */
  keep(visits: VisitFiles, looked: ReadonlySet<string>): void {
    const { files } = visits.below(this.folder);
    if (files.length < WORTH_KEEPING) return;
    const isWhole = files.every((file) => looked.has(file));
    const gone = isWhole && this.before.size > this.used.size;
    if (!this.isChanged && !gone) return;
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

/** What the workers of a batch weighed. */
export class ExtractsOfRun {
  private readonly byClinic = new Map<string, Map<string, { scan: Scan; extract: Extract }>>();

  add(clinicFile: string, scan: Scan, extract: Extract | undefined): void {
    const folder = dirname(clinicFile);
    if (!extract || !liesInside(folder, scan.file)) return;
    const own = this.byClinic.get(folder) ?? new Map();
    this.byClinic.set(folder, own.set(scan.file, { scan, extract }));
  }

  keep(visits: VisitFiles): void {
    for (const [folder, own] of this.byClinic) {
      const kept = new KeptExtracts(folder, knowledgeHash());
      for (const { scan, extract } of own.values()) kept.of(scan, () => extract);
      kept.keep(visits, new Set(own.keys()));
    }
  }
}
