/** A folder made by a batch -> a row for each document: good, or what is wrong with it. Nothing is changed. */
import { readdirSync } from "node:fs";
import { dirname, join } from "node:path";
import { ClinicFiles } from "../../clinic-folder/clinic-file.js";
import { ClinicPeople } from "../../clinic-folder/clinic-people.js";
import { VisitFiles } from "../../clinic-folder/visit-files.js";
import { ClinicRegisters } from "../../register/clinic-registers.js";
import { type Manifest, type ManifestVisit, readManifest } from "../manifest.js";
import type { Reason } from "../outcome.js";
import { reason } from "../outcome.js";
import { SET_ASIDE } from "../output-store.js";
import { type Outcome, runPool } from "../pool.js";
import { whoseReasons } from "../whose.js";
import { isPrintRun, proofRun } from "./proof-run.js";

export interface ProofRow {
  readonly file: string;
  readonly visit: string;
  readonly document: string;
  readonly state: "good" | "bad";
  readonly faults: readonly Reason[];
}

export interface PrintRunRow {
  readonly file: string;
  readonly state: "good" | "bad";
  readonly faults: readonly Reason[];
}

export interface ProofResult {
  readonly printRuns: readonly PrintRunRow[];
  readonly documents: readonly ProofRow[];
  /** PDFs that lie among the documents, are no print run, and that no manifest names. */
  readonly strangers: readonly string[];
}

export interface ProofFolderOptions {
  readonly workers: number;
  readonly today: string;
  /** Print runs that lie elsewhere. */
  readonly printRuns?: readonly string[];
  readonly onProgress?: (done: number, total: number) => void;
}

/** Undefined when the folder has no manifest. */
export async function proofFolder(
  folder: string,
  { workers, today, onProgress, printRuns: extra }: ProofFolderOptions,
): Promise<ProofResult | undefined> {
  const manifest = readManifest(folder);
  if (!manifest) return undefined;
  const visits = new VisitFiles();
  const groups = visitsWithDocuments(manifest);
  const clinicFiles = new Set(manifest.visits.map((v) => v.clinic_file));
  const whose = new ClinicPeople({
    visits,
    files: manifest.visits.map((v) => v.file),
    oneClinic: clinicFiles.size === 1,
  });
  const people = manifest.visits.flatMap((v) => visits.scan(v.file).identity ?? []);
  const editionsOf = ({ file, clinic_file, signed }: ManifestVisit) => {
    const registers = new ClinicRegisters(new ClinicFiles(clinic_file));
    const editions = signed && registers.editions(file, signed.visit);
    return editions ? { editions } : {};
  };
  const faults = new Map<string, readonly Reason[]>();
  await runPool(
    groups,
    ({ visit, documents }) => ({
      kind: "proof",
      visit: {
        file: visit.file,
        beside: visits.beside(visit.file),
        clinicFile: visit.clinic_file,
        overrides: visit.overrides,
        ...editionsOf(visit),
      },
      documents: documents.map((record) => ({ path: join(folder, record.file), record })),
    }),
    ({ documents }, outcome) => {
      for (const [i, document] of documents.entries()) faults.set(document.file, faultsOf(outcome, i));
      onProgress?.(faults.size, manifest.documents.length);
    },
    {
      workers: Math.min(workers, groups.length),
      settings: { ...manifest.settings, proof: true, today, people },
    },
  );
  const others = unnamed(folder, manifest);
  const runs = [...others.map((file) => join(folder, file)).filter(isPrintRun), ...(extra ?? [])];
  const printRuns: PrintRunRow[] = [];
  for (const file of runs) {
    const found = await proofRun(folder, manifest, file);
    printRuns.push({ file, state: found.length === 0 ? "good" : "bad", faults: found });
  }
  const fileOf = new Map(manifest.visits.map((v) => [v.source, v.file]));
  return {
    documents: manifest.documents.map((d) => {
      const doubtful = whoseReasons(whose.doubts(fileOf.get(d.source) ?? "")).errors;
      const found = [...doubtful, ...(faults.get(d.file) ?? [])];
      const state = found.length === 0 ? "good" : "bad";
      return { file: d.file, visit: d.visit, document: d.document, state, faults: found };
    }),
    printRuns,
    strangers: others.filter((file) => !isPrintRun(join(folder, file))),
  };
}

function visitsWithDocuments(manifest: Manifest) {
  const groups = new Map<string, { visit: ManifestVisit; documents: Manifest["documents"][number][] }>();
  for (const visit of manifest.visits) groups.set(visit.source, { visit, documents: [] });
  for (const document of manifest.documents) groups.get(document.source)?.documents.push(document);
  return [...groups.values()].filter((g) => g.documents.length > 0);
}

function faultsOf(outcome: Outcome, index: number): readonly Reason[] {
  if (outcome.kind === "proof") return outcome.faults[index] ?? [reason("worker-failed")];
  return [outcome.kind === "lost" ? outcome.reason : reason("worker-failed")];
}

/** PDFs among the documents that no manifest names. */
function unnamed(folder: string, manifest: Manifest): string[] {
  const known = new Set(manifest.documents.map((d) => d.file));
  const places = new Set(["", SET_ASIDE, ...manifest.documents.map((d) => dirname(d.file))]);
  places.delete(".");
  return [...places].sort().flatMap((place) =>
    namesIn(join(folder, place))
      .map((name) => (place === "" ? name : `${place}/${name}`))
      .filter((file) => /\.pdf$/iu.test(file) && !known.has(file)),
  );
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder).sort();
  } catch {
    return [];
  }
}
