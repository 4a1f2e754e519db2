/** What a run leaves for people and programs: one row for each document, and what needs a person. */

import { existsSync, readFileSync, rmSync } from "node:fs";
import { join } from "node:path";
import type { Paper } from "../base/paper.js";
import { syncFolder, writeWhole } from "../files/write.js";
import type { SignedVisit } from "../register/record.js";
import { type Reason, writeReason } from "./outcome.js";
import type { DocumentRecord } from "./records.js";
import type { Overrides } from "./source.js";

export interface ManifestDocument extends DocumentRecord {
  /** The visit file, as WorkItem.key. */
  readonly source: string;
  /** Place of the visit in the worklist, from 0. */
  readonly place: number;
  /** Moment at which the register of the clinic says that it was sent or withdrawn; a print run made later leaves it out. */
  readonly closed_at?: string;
}

export interface ManifestVisit {
  readonly source: string;
  readonly place: number;
  /** From the folder of the manifest, or absolute. */
  readonly file: string;
  readonly clinic_file: string;
  readonly overrides: Overrides;
  /** Whose signature its documents bear; none for a draft. */
  readonly signed?: SignedVisit;
}

export interface Failure {
  readonly source: string;
  /** Empty when the visit could not be read. */
  readonly visit: string;
  readonly reasons: readonly Reason[];
}

export interface Totals {
  readonly visits: number;
  readonly made: number;
  readonly unchanged: number;
  readonly waiting: number;
  readonly failed: number;
  readonly documents: number;
}

export interface Manifest {
  readonly format: 1;
  readonly whorl: string;
  readonly settings: {
    readonly documents: readonly string[];
    readonly paper?: Paper;
    readonly language?: string;
    readonly largePrint?: boolean;
    readonly templates?: string;
    readonly drafts: boolean;
  };
  readonly source: string;
  /** Hash over every key of the whole worklist, and how many there are; equal for all shards of one worklist. */
  readonly worklist: { readonly visits: number; readonly sha256: string };
  /** `2/4`, or null for a whole run. */
  readonly shard: string | null;
  readonly totals: Totals;
  readonly documents: readonly ManifestDocument[];
  readonly visits: readonly ManifestVisit[];
  readonly waiting: readonly { readonly source: string; readonly visit: string }[];
  readonly failures: readonly Failure[];
  /** What is worth a look though it stopped nothing. */
  readonly notices: readonly Failure[];
}

export const MANIFEST = "manifest.json";
const COLUMNS = [
  "visit",
  "patient_id",
  "document",
  "recipient",
  "postal_code",
  "file",
  "pages",
  "sha256",
  "state",
] as const;

/** Writes manifest.csv, failures.csv and manifest.json, which at no time stands beside tables that say otherwise. */
export function writeManifest(folder: string, manifest: Manifest): void {
  const rows = manifest.documents.map((d) => [
    d.visit,
    d.patient,
    d.document,
    d.recipient?.name ?? "",
    d.recipient?.postal_code ?? "",
    d.file,
    String(d.pages),
    d.sha256,
    d.state,
  ]);
  const failures = manifest.failures.map((f) => [f.source, f.visit, f.reasons.map(writeReason).join(" | ")]);
  const tables = [
    { file: join(folder, "manifest.csv"), text: csv([[...COLUMNS], ...rows]) },
    { file: join(folder, "failures.csv"), text: csv([["source", "visit", "reasons"], ...failures]) },
  ].filter(({ file, text }) => !existsSync(file) || readFileSync(file, "utf8") !== text);
  if (tables.length > 0) dropManifest(folder);
  for (const { file, text } of tables) writeWhole(file, text);
  // Last, since it is what says that the run was finished.
  writeWhole(join(folder, MANIFEST), `${JSON.stringify(manifest, null, 1)}\n`);
}

/** Takes manifest.json away before something changes: while it is there, it is true. The tables stay until they are written anew. */
export function dropManifest(folder: string): void {
  const file = join(folder, MANIFEST);
  if (!existsSync(file)) return;
  rmSync(file, { force: true });
  syncFolder(folder);
}

/** The manifest of a folder; undefined when there is none or it cannot be read. */
export function readManifest(folder: string): Manifest | undefined {
  const file = join(folder, MANIFEST);
  if (!existsSync(file)) return undefined;
  try {
    const value: unknown = JSON.parse(readFileSync(file, "utf8"));
    return isManifest(value) ? { ...value, notices: value.notices ?? [] } : undefined;
  } catch {
    return undefined;
  }
}

export function isManifest(value: unknown): value is Manifest {
  return (
    typeof value === "object" &&
    value !== null &&
    "format" in value &&
    value.format === 1 &&
    "documents" in value &&
    Array.isArray(value.documents) &&
    "visits" in value &&
    Array.isArray(value.visits)
  );
}

/** Comma-separated rows with CRLF. A cell that a spreadsheet would run as a formula gets an apostrophe before it. */
export function csv(rows: readonly (readonly string[])[]): string {
  const cell = (text: string) => {
    const safe = /^[=+\-@\t\r]/u.test(text) ? `'${text}` : text;
    return /[",\r\n]/u.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  return `\ufeff${rows.map((r) => r.map(cell).join(",")).join("\r\n")}\r\n`;
}
