/** The visit files on disk as one run sees them: each is looked at once, and what stands beside it is found by its patient. */
import { lstatSync, statSync } from "node:fs";
import { dirname, resolve } from "node:path";
import { groupBy } from "../base/group.js";
import type { Problem } from "../base/problem.js";
import { type Found, folderProblem, yamlBelow, yamlIn } from "./find.js";
import { type Scan, scanVisit } from "./scan.js";

/** What was seen of a file, and when to look again. */
export interface Looked {
  readonly stamp: string;
  readonly scan: Scan;
}

/**
 * What was seen of a file stays, so that all of a run speaks of one state. A program that runs on, as the desk does, takes a new
 * one from time to time and gives it the one `before`: files that have not changed since are not read again.
 */
export class VisitFiles {
  private readonly looked = new Map<string, Looked>();
  private readonly folders = new Map<string, ReadonlyMap<string, readonly string[]>>();

  constructor(private before?: VisitFiles) {
    if (before) before.before = undefined;
  }

  /** One that begins with what an earlier run has seen; a file that has changed since is looked at again. */
  static remembering(seen: Iterable<readonly [file: string, looked: Looked]>): VisitFiles {
    const before = new VisitFiles();
    for (const [file, looked] of seen) before.looked.set(file, looked);
    return new VisitFiles(before);
  }

  /** What was seen, for a later run. */
  seen(): ReadonlyMap<string, Looked> {
    return this.looked;
  }

  scan(file: string): Scan {
    const known = this.looked.get(file);
    if (known) return known.scan;
    const stamp = stampOf(file);
    const earlier = this.before?.looked.get(file);
    const looked = earlier?.stamp === stamp ? earlier : { stamp, scan: scanVisit(file) };
    this.looked.set(file, looked);
    return looked.scan;
  }

  /** Looks again at a file that has changed since. */
  again(file: string): Scan {
    this.looked.delete(file);
    this.before?.looked.delete(file);
    this.folders.delete(dirname(file));
    return this.scan(file);
  }

  /** The files below a folder that hold a visit, well written or not. */
  below(folder: string): Found {
    const { files, notTaken } = yamlBelow(folder);
    return { files: files.filter((file) => this.scan(file).holdsVisit), notTaken };
  }

  /**
   * Files as a person names them, whatever is in them, and the visits below each folder named. A path that does not exist is
   * passed on, so that the reader reports it.
   */
  named(paths: readonly string[]): { files: string[]; problems: Problem[] } {
    const found = paths.map((path) =>
      statSync(path, { throwIfNoEntry: false })?.isDirectory()
        ? this.below(path)
        : { files: [resolve(path)], notTaken: [] },
    );
    return {
      files: [...new Set(found.flatMap(({ files }) => files))],
      problems: found.flatMap(({ notTaken }) => notTaken.map(folderProblem)),
    };
  }

  /** Other files of the folder whose visit is of the same patient number. */
  beside(file: string): string[] {
    const patient = this.scan(file).identity?.patient;
    if (patient === undefined) return [];
    return (this.byPatient(dirname(file)).get(patient) ?? []).filter((other) => other !== file);
  }

  private byPatient(folder: string): ReadonlyMap<string, readonly string[]> {
    const known = this.folders.get(folder);
    if (known) return known;
    const files = yamlIn(folder);
    const byPatient = groupBy(files, (file) => this.scan(file).identity?.patient ?? "");
    this.folders.set(folder, byPatient);
    return byPatient;
  }
}

/** Changes when the file does. */
function stampOf(file: string): string {
  const stat = lstatSync(file, { throwIfNoEntry: false, bigint: true });
  return stat ? `${stat.ino} ${stat.size} ${stat.mtimeNs} ${stat.ctimeNs}` : "";
}
