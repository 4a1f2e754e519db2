/** Reads visit files, each once for as long as its text stays the same: a visit is also an earlier visit of the next one. */
import { sha256 } from "../base/sha256.js";
import type { Knowledge } from "../knowledge/schema.js";
import { photosOnDisk } from "../visit/beside-photo.js";
import { parseVisit, readText, type VisitRead } from "../visit/read.js";
import { type Differs, identityOf, openDifferences } from "../visit/same-patient.js";
import type { Visit } from "../visit/visit.js";
import { photosNamed } from "./scan.js";

/** Visits of one patient lie together, so few need to be kept. */
export const MOST_KEPT = 64;

export interface ReadVisit extends VisitRead {
  /** Over the text that was read, as Scan.hash. */
  readonly hash: string;
}

export class VisitReader {
  private readonly kept = new Map<string, ReadVisit>();
  private hashes: Record<string, string> = {};

  constructor(
    readonly knowledge: Knowledge,
    /** ISO date that "in the future" is judged against. */
    readonly today: string,
  ) {}

  read(file: string): ReadVisit {
    const { value: text, problems } = readText(file);
    const hash = sha256(text ?? problems.map((p) => p.id).join());
    this.hashes[file] = hash;
    if (text === undefined) return { problems, hash };
    const { beside, seen } = photosOnDisk(file);
    for (const photo of photosNamed(text)) beside(photo);
    for (const [path, content] of seen) this.hashes[path] = content;
    const key = [hash, file, ...seen.values()].join(" ");
    const known = this.kept.get(key);
    if (known) return known;
    const { knowledge, today } = this;
    const read = { ...parseVisit(text, file, knowledge, { today, beside }), hash };
    this.kept.set(key, read);
    for (const oldest of this.kept.keys()) {
      if (this.kept.size <= MOST_KEPT) break;
      this.kept.delete(oldest);
    }
    return read;
  }

  /** Hashes of the files read since this was asked before, by path. */
  takeHashes(): Record<string, string> {
    const { hashes } = this;
    this.hashes = {};
    return hashes;
  }

  /**
   * Earlier visits of the same person among the files `beside` a visit, oldest first, and those under the same number of which
   * that is not certain: nothing of them may enter a document. What cannot be read is left to its own check.
   */
  around(visit: Visit, beside: readonly string[]): { earlier: Visit[]; uncertain: Differs[] } {
    const others = beside
      .flatMap((file) => this.read(file).value ?? [])
      .filter((other) => other.patient.id === visit.patient.id);
    const own = identityOf(visit);
    const all = [own, ...others.map(identityOf)];
    const differs = others.map((other) => openDifferences(own, identityOf(other), all));
    const earlier = others
      .filter((other, i) => differs[i]?.length === 0 && other.date < visit.date)
      .sort((a, b) => (a.date < b.date ? -1 : 1));
    return { earlier, uncertain: [...new Set(differs.flat())] };
  }
}
