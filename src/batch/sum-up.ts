/** A finished run -> its manifest. Pure but for the version of the package. */
import { type MakeSettings, packageVersion } from "./fingerprint.js";
import type { Failure, Manifest } from "./manifest.js";
import type { Reason } from "./outcome.js";
import { inShard, type Shard, worklistHash } from "./plan.js";
import type { VisitRecord } from "./records.js";
import type { Source, WorkItem } from "./source.js";

export interface FinishedRun {
  readonly source: Source;
  readonly mine: readonly WorkItem[];
  /** By key, one for each of `mine`. */
  readonly finished: ReadonlyMap<string, VisitRecord>;
  readonly unchanged: number;
  readonly settings: MakeSettings;
  readonly clinicFiles: ReadonlyMap<string, string>;
  /** By key: what is worth a look though it stops nothing. */
  readonly notices: ReadonlyMap<string, readonly Reason[]>;
  readonly shard: Shard | undefined;
}

export function sumUp(run: FinishedRun): Manifest {
  const { source, mine, finished, shard } = run;
  const records = mine.flatMap((work) => {
    const record = finished.get(work.key);
    return record ? [{ work, record }] : [];
  });
  const inState = (state: VisitRecord["state"]) => records.filter((r) => r.record.state === state);
  const untaken = source.untaken.filter((u) => inShard(u.key, shard));
  const failures: Failure[] = [
    ...untaken.map((u) => ({ source: u.key, visit: "", reasons: [u.reason] })),
    ...inState("failed").map(({ work, record }) => ({
      source: work.key,
      visit: record.visit,
      reasons: record.reasons,
    })),
  ];
  const documents = records.flatMap(({ work, record }) =>
    record.documents.map((d) => ({ ...d, source: work.key, place: work.place })),
  );
  const waiting = inState("waiting").map(({ work, record }) => ({ source: work.key, visit: record.visit }));
  const { proof: _, ...settings } = run.settings;
  return {
    format: 1,
    whorl: packageVersion(),
    settings,
    source: source.path,
    worklist: { visits: source.items.length, sha256: worklistHash(source.items) },
    shard: shard ? `${shard.index}/${shard.count}` : null,
    totals: {
      visits: mine.length + untaken.length,
      made: inState("made").length - run.unchanged,
      unchanged: run.unchanged,
      waiting: waiting.length,
      failed: failures.length,
      documents: documents.length,
    },
    documents,
    visits: mine.map((work) => {
      const signed = finished.get(work.key)?.signed;
      return {
        source: work.key,
        place: work.place,
        file: work.file,
        clinic_file: run.clinicFiles.get(work.key) ?? "",
        overrides: work.overrides,
        ...(signed ? { signed } : {}),
      };
    }),
    waiting,
    failures,
    notices: records.flatMap(({ work, record }) => {
      const reasons = run.notices.get(work.key);
      return reasons ? [{ source: work.key, visit: record.visit, reasons }] : [];
    }),
  };
}
