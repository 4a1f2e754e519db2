/** Many visits -> documents on disk, a journal, a manifest. Killed at any moment, the next run goes on where this one was. */
import { join } from "node:path";
import { ClinicFiles } from "../clinic-folder/clinic-file.js";
import { ClinicPeople } from "../clinic-folder/clinic-people.js";
import { VisitFiles } from "../clinic-folder/visit-files.js";
import { type Lock, takeLock } from "../files/lock.js";
import { makeFolder, sweepTemporary } from "../files/write.js";
import { ClinicRegisters } from "../register/clinic-registers.js";
import { earlierLetters, type KnownEditions } from "../register/editions.js";
import { fingerprints, isAsPlanned, type MakeSettings, type Planned } from "./fingerprint.js";
import { dropJointManifest } from "./gather.js";
import type { MadeVisit } from "./job.js";
import { openJournal, readJournal, stateFolder } from "./journal.js";
import { ExtractsOfRun } from "./kept-extracts.js";
import { dropManifest, type Manifest, writeManifest } from "./manifest.js";
import { type Reason, reason } from "./outcome.js";
import { failedRecord, isWhole, leftFrom, OutputStore, SET_ASIDE } from "./output-store.js";
import { conflicts, inShard, type Shard, shardFolder } from "./plan.js";
import { type Outcome, runPool } from "./pool.js";
import type { VisitRecord } from "./records.js";
import { registerRun, withRegister } from "./registered.js";
import { readSource, type Source, type WorkItem } from "./source.js";
import { sumUp } from "./sum-up.js";
import { whoseReasons } from "./whose.js";

export interface BatchOptions extends MakeSettings {
  readonly source: string;
  readonly out: string;
  /** Folder that the paths of a worklist start from; its own when not given. */
  readonly visitsFolder?: string;
  /** Clinic file for every visit, in place of the one beside or above it. */
  readonly clinicFile?: string;
  readonly workers: number;
  readonly today: string;
  readonly shard?: Shard;
  /** Called when visits are finished. */
  readonly onProgress?: (done: number, total: number) => void;
  readonly stop?: AbortSignal;
}

export type BatchResult =
  | {
      readonly kind: "done";
      readonly folder: string;
      readonly manifest: Manifest;
      /** Documents of earlier runs that this one does not stand behind. */
      readonly withdrawn: number;
    }
  | { readonly kind: "stopped"; readonly folder: string; readonly finished: number; readonly left: number }
  /** Another run is at work in the folder. */
  | { readonly kind: "busy"; readonly folder: string; readonly host: string; readonly pid: number }
  /** The folder holds the documents of another source. */
  | { readonly kind: "other-source"; readonly folder: string; readonly source: string };

/**
 * Makes what is new or changed and leaves the rest. One broken visit never stops the run. Throws NoSuchSource, or
 * NotWritten (disk full): then every finished visit is on disk and in the journal.
 */
export async function runBatch(options: BatchOptions): Promise<BatchResult> {
  const folder = options.shard ? join(options.out, shardFolder(options.shard)) : options.out;
  const source = readSource(options.source, options.visitsFolder);
  makeFolder(folder);
  const taken = takeLock(join(stateFolder(folder), "lock"));
  if (!("lock" in taken))
    return { kind: "busy", folder, host: taken.heldBy?.host ?? "", pid: taken.heldBy?.pid ?? 0 };
  try {
    return await runLocked(options, folder, source, taken.lock);
  } catch (error) {
    if (error instanceof LostLock) return { kind: "busy", folder, host: "", pid: 0 };
    throw error;
  } finally {
    taken.lock.release();
  }
}

interface ToMake {
  readonly work: WorkItem;
  readonly clinicFile: string;
  readonly planned: Planned;
  readonly editions?: KnownEditions;
}

/** How often a visit is made again because a file of it was edited while it was made. */
const MOST_ROUNDS = 4;

async function runLocked(
  options: BatchOptions,
  folder: string,
  found: Source,
  lock: Lock,
): Promise<BatchResult> {
  const before = readJournal(folder);
  if (before.head && before.head.source !== found.path)
    return { kind: "other-source", folder, source: before.head.source };
  for (const place of [folder, join(folder, SET_ASIDE), stateFolder(folder)]) sweepTemporary(place);
  const mine = found.items.filter((item) => inShard(item.key, options.shard));
  const settings = settingsOf(options);
  const made = new Map<string, VisitRecord>();
  let source = found;
  let sorted = sortOut(options, folder, source, mine, before.visits, made);
  const { unchanged } = sorted;
  const finished = new Map(sorted.finished);
  const head = { journal: 1, source: source.path } as const;
  const left = leftFrom(folder, before.files, finished.values());
  // The journal first: a run that is killed while moving what is left must not be the last to know of it.
  const journal = openJournal(folder, head, finished.values(), left);
  if (sorted.todo.length > 0 || left.length > 0) {
    dropManifest(folder);
    if (options.shard) dropJointManifest(options.out, options.shard);
  }
  const keeper = new OutputStore(folder, finished.values(), left);
  const keep = (key: string, fingerprint: string, outcome: MadeVisit, visit: string) => {
    if (lock.isLost()) throw new LostLock();
    const record = keeper.keep({ key, fingerprint, visit: outcome.visit || visit, made: outcome }, journal);
    finished.set(key, record);
    made.set(key, record);
    options.onProgress?.(finished.size, mine.length);
  };
  const people = peopleOf(source);
  const weighed = new ExtractsOfRun();
  try {
    options.onProgress?.(finished.size, mine.length);
    for (let round = 1; sorted.todo.length > 0 && !options.stop?.aborted; round += 1) {
      const { visits } = source;
      let edited = false;
      await runPool(
        sorted.todo,
        ({ work, clinicFile, planned, editions }) => ({
          kind: "make",
          visit: {
            ...toRead(source, work, clinicFile),
            clinicHash: planned.inputs.clinic,
            ...(editions ? { editions } : {}),
          },
        }),
        ({ work, planned, clinicFile }, outcome) => {
          const visit = visits.scan(work.file).identity?.visit ?? "";
          const isEdited = outcome.kind === "make" && !isAsPlanned(planned, outcome.made.read);
          if (!isEdited && outcome.kind === "make")
            weighed.add(clinicFile, visits.scan(work.file), outcome.made.extract);
          if (!isEdited) keep(work.key, planned.fingerprint, madeOf(outcome), visit);
          else if (round < MOST_ROUNDS) edited = true;
          else keep(work.key, "", failed(reason("edited-while-made")), visit);
        },
        {
          workers: Math.min(options.workers, sorted.todo.length),
          settings: { ...settings, today: options.today, people },
        },
        options.stop,
      );
      if (!edited || options.stop?.aborted) break;
      source = { ...source, visits: new VisitFiles(visits) };
      sorted = sortOut(options, folder, source, mine, before.visits, made);
      for (const [key, record] of sorted.finished) finished.set(key, record);
    }
  } finally {
    journal.close();
  }
  if (finished.size < mine.length)
    return { kind: "stopped", folder, finished: finished.size, left: mine.length - finished.size };
  weighed.keep(source.visits);
  const { clinicFiles, notices } = sorted;
  // Before the manifest says that the run was finished: one that is killed here comes again and writes the rest.
  registerRun(folder, source, finished, options.clinicFile);
  const summed = sumUp({
    source,
    mine,
    finished,
    unchanged,
    settings,
    clinicFiles,
    notices,
    shard: options.shard,
  });
  const manifest = withRegister(summed);
  writeManifest(folder, manifest);
  openJournal(folder, head, finished.values()).close();
  return { kind: "done", folder, manifest, withdrawn: keeper.end() };
}

/** Another run took the folder over while this one was asleep. */
class LostLock extends Error {}

/** Told by `visit-id-twice` already. */
const SAME_VISIT: ReadonlySet<string> = new Set(["visit-of-two-patients", "visit-twice"]);

/** What stands already, what cannot be made, and what is left to do. */
function sortOut(
  options: BatchOptions,
  folder: string,
  source: Source,
  mine: readonly WorkItem[],
  before: ReadonlyMap<string, VisitRecord>,
  made: ReadonlyMap<string, VisitRecord>,
) {
  const { visits } = source;
  const conflicting = conflicts(
    source.items.map((item) => ({ key: item.key, visit: visits.scan(item.file).identity?.visit })),
  );
  const people = peopleAround(source, options.clinicFile !== undefined);
  const notices = new Map<string, readonly Reason[]>();
  const prints = fingerprints(settingsOf(options), visits, peopleOf(source));
  const clinics = new ClinicFiles(options.clinicFile);
  const registers = new ClinicRegisters(clinics);
  const editionsOf = ({ file }: WorkItem) =>
    registers.editions(file, visits.scan(file).identity?.visit ?? "");
  const finished = new Map<string, VisitRecord>();
  const clinicFiles = new Map<string, string>();
  const todo: ToMake[] = [];
  let unchanged = 0;
  for (const work of mine) {
    const { key } = work;
    const clinicFile = clinics.fileOf(work.file);
    if (clinicFile) clinicFiles.set(key, clinicFile);
    const conflict = conflicting.get(key);
    const doubts = people.doubts(work.file);
    const whose = whoseReasons(conflict ? doubts.filter(({ id }) => !SAME_VISIT.has(id)) : doubts);
    if (whose.notices.length > 0) notices.set(key, whose.notices);
    const errors = [
      ...(conflict ? [conflict] : []),
      ...whose.errors,
      ...(clinicFile ? [] : [reason("no-clinic-file")]),
    ];
    if (errors.length > 0 || !clinicFile) {
      const visit = visits.scan(work.file).identity?.visit ?? "";
      finished.set(key, failedRecord(key, "", visit, errors));
      continue;
    }
    const editions = editionsOf(work);
    const planned = prints.of(work, clinicFile, editions ? earlierLetters(editions) : []);
    const isOf = (record: VisitRecord | undefined) => record?.fingerprint === planned.fingerprint;
    const [just, known] = [made.get(key), before.get(key)];
    // A visit that made nothing is tried again; one whose documents were set aside would make the same.
    const stands = known && (known.state !== "failed" || known.documents.length > 0);
    if (just && isOf(just)) finished.set(key, just);
    else if (!just && stands && isOf(known) && isWhole(folder, known)) {
      finished.set(key, known);
      if (known.state === "made") unchanged += 1;
    } else todo.push({ work, clinicFile, planned, ...(editions ? { editions } : {}) });
  }
  return { finished, todo, clinicFiles, unchanged, notices };
}

export function toRead(source: Source, work: WorkItem, clinicFile: string) {
  return {
    file: work.file,
    beside: source.visits.beside(work.file),
    clinicFile,
    overrides: work.overrides,
  };
}

/** Who is who among the visits of the source and those that lie around them. */
function peopleAround(source: Source, oneClinic: boolean): ClinicPeople {
  return new ClinicPeople({ visits: source.visits, files: source.items.map((item) => item.file), oneClinic });
}

/** Everyone the source speaks of, all shards together. */
export function peopleOf(source: Source) {
  return source.items.flatMap((item) => source.visits.scan(item.file).identity ?? []);
}

function madeOf(outcome: Outcome): MadeVisit {
  if (outcome.kind === "make") return outcome.made;
  return failed(...(outcome.kind === "lost" ? [outcome.reason] : []));
}

function failed(...reasons: readonly Reason[]): MadeVisit {
  return { state: "failed", visit: "", files: [], reasons };
}

function settingsOf(options: BatchOptions): MakeSettings {
  const { documents, paper, language, largePrint, templates, drafts, proof } = options;
  return {
    documents,
    ...(paper ? { paper } : {}),
    ...(language ? { language } : {}),
    ...(largePrint === undefined ? {} : { largePrint }),
    ...(templates ? { templates } : {}),
    drafts,
    proof,
  };
}
