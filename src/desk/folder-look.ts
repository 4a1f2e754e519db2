/** The folder's visits as the desk last saw them. Looking at thousands of files takes a while: a look is shared, and done in short turns. */
import { setImmediate } from "node:timers/promises";
import { ClinicPeople } from "../clinic-folder/clinic-people.js";
import { yamlBelow } from "../clinic-folder/find.js";
import { type Looked, VisitFiles } from "../clinic-folder/visit-files.js";

/** Few files are looked at in no time; then nothing is ever a moment old. */
const FEW = 150;
/** How long a look at many files may be old while one of them is edited. */
const STALE_AFTER_MS = 30_000;
/** A page asks for the list, the words and the open work one after the other: one look at many files serves them all. */
const SAME_LOOK_MS = 1000;
const TURN_MS = 25;

export interface Seen {
  readonly visits: VisitFiles;
  readonly people: ClinicPeople;
  /** Paths of the files that hold a visit. */
  readonly files: readonly string[];
}

export class FolderLook {
  private last: Seen | undefined;
  private lastAt = 0;
  /** When every file was looked at last. */
  private lookedAt = 0;
  private running: Promise<Seen> | undefined;
  /** How far a look is that is under way. */
  done = 0;
  of = 0;

  constructor(
    private readonly folder: string,
    private readonly oneClinic: boolean,
    private readonly remembered: () => Iterable<readonly [file: string, looked: Looked]>,
  ) {}

  /** Something may have been written since: the next look is a new one. */
  lookAgain(): void {
    this.lookedAt = 0;
  }

  /** As last seen. */
  get seen(): Seen | undefined {
    return this.last;
  }

  /** Raised whenever a file is seen to be another than before. */
  edition = 1;

  /** True when a look now would be the last one over again. */
  isFresh(): boolean {
    return this.last !== undefined && !this.running && Date.now() - this.lookedAt < SAME_LOOK_MS;
  }

  /** Every file as it is now. */
  now(): Seen {
    const visits = this.begin();
    return this.finish(visits, visits.below(this.folder).files);
  }

  /** As last seen, but for the file itself and what lies beside it. */
  around(file: string): Seen {
    if (!this.last || this.last.files.length < FEW) return this.now();
    const { visits, files } = this.last;
    const before = JSON.stringify(visits.scan(file).identity);
    const known = files.includes(file);
    const after = JSON.stringify(visits.again(file).identity);
    this.edition++;
    if (before !== after || !known) {
      const all = known ? files : [...files, file].sort();
      this.last = { visits, files: all, people: this.people(visits, all) };
    }
    if (Date.now() - this.lastAt > STALE_AFTER_MS) {
      this.lastAt = Date.now();
      setTimeout(() => void this.refresh(), 1500).unref();
    }
    return this.last;
  }

  /** Every file as it is now, in turns that leave room for other requests. */
  refresh(): Promise<Seen> {
    if (this.last && this.last.files.length >= FEW && this.isFresh()) return Promise.resolve(this.last);
    this.running ??= this.inTurns().finally(() => {
      this.running = undefined;
    });
    return this.running;
  }

  private async inTurns(): Promise<Seen> {
    const visits = this.begin();
    const { files } = yamlBelow(this.folder);
    this.of = files.length;
    this.done = 0;
    let turn = performance.now();
    for (const file of files) {
      visits.scan(file);
      this.done++;
      if (performance.now() - turn < TURN_MS) continue;
      await setImmediate();
      turn = performance.now();
    }
    return this.finish(
      visits,
      files.filter((file) => visits.scan(file).holdsVisit),
    );
  }

  private begin(): VisitFiles {
    return this.last ? new VisitFiles(this.last.visits) : VisitFiles.remembering(this.remembered());
  }

  private finish(visits: VisitFiles, files: readonly string[]): Seen {
    const { last } = this;
    const isSame =
      last?.files.length === files.length &&
      files.every((file, i) => file === last.files[i] && visits.scan(file) === last.visits.scan(file));
    // Who is who among thousands is worked out again only when a file says something else.
    if (!isSame) this.edition++;
    this.last = { visits, files, people: isSame ? last.people : this.people(visits, files) };
    this.lastAt = this.lookedAt = Date.now();
    return this.last;
  }

  private people(visits: VisitFiles, files: readonly string[]): ClinicPeople {
    return new ClinicPeople({ visits, files, oneClinic: this.oneClinic }, this.last?.people);
  }
}
