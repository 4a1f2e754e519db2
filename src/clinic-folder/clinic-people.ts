/** Which visits belong to one clinic, and so must agree on who is who: all below the folder of its clinic file, and those named with it. */
import { dirname, resolve } from "node:path";
import { groupBy } from "../base/group.js";
import type { Problem } from "../base/problem.js";
import { ClinicFiles } from "./clinic-file.js";
import type { Doubt } from "./doubt.js";
import { identityProblem } from "./identity-problems.js";
import { People } from "./people.js";
import type { Named, Scan } from "./scan.js";
import type { VisitFiles } from "./visit-files.js";

interface Clinic {
  readonly scans: readonly Scan[];
  readonly people: People;
}

export interface PeopleOptions {
  readonly visits: VisitFiles;
  /** Visit files of the run. */
  readonly files: readonly string[];
  /** True when one clinic file was named for all of them. */
  readonly oneClinic: boolean;
}

const ALL = "";

export class ClinicPeople {
  private readonly clinics = new Map<string, Clinic>();
  private readonly marks = new ClinicFiles();
  private readonly named: ReadonlyMap<string, readonly string[]>;

  constructor(
    private readonly options: PeopleOptions,
    private before?: ClinicPeople,
  ) {
    this.named = groupBy(options.files, (file) => this.clinicOf(file));
    if (before) before.before = undefined;
  }

  /** What is doubtful about whose visit this is, among all visits of its clinic. */
  doubts(file: string): Doubt[] {
    return this.people(file).doubts(file);
  }

  /** The same as problems of the file, for the clinician's own screen. */
  problems(file: string): Problem[] {
    const people = this.people(file);
    const own = people.known(file);
    return own ? people.doubts(file).map((doubt) => identityProblem(doubt, own)) : [];
  }

  /** Everyone of the clinic, as letters name them. */
  everyone(file: string): readonly Named[] {
    return this.people(file).named;
  }

  private people(file: string): People {
    const key = this.clinicOf(file);
    const known = this.clinics.get(key);
    if (known) return known.people;
    const { visits } = this.options;
    const named = new Set([file, ...(this.named.get(key) ?? [])]);
    const folders = new Set([...named].map((one) => this.folderOf(one)));
    const below = [...folders].flatMap((folder) => visits.below(folder).files);
    // A clinic within a clinic's folder has numbers of its own.
    const near = below.filter((one) => key === ALL || this.clinicOf(one) === key);
    const scans = [...new Set([...near, ...named])].sort().map((one) => visits.scan(one));
    const earlier = this.before?.clinics.get(key);
    const isSame = earlier?.scans.length === scans.length && scans.every((s, i) => s === earlier.scans[i]);
    const clinic = earlier && isSame ? earlier : { scans, people: new People(scans) };
    this.clinics.set(key, clinic);
    return clinic.people;
  }

  /** The clinic file beside or above; one for all where there is none, or where one was named for all. */
  private clinicOf(file: string): string {
    return this.options.oneClinic ? ALL : (this.marks.fileOf(file) ?? ALL);
  }

  private folderOf(file: string): string {
    return dirname(this.marks.fileOf(file) ?? resolve(file));
  }
}
