/** The folder's visits with the state of each: draft, problems, signed, letters made. */

import { join } from "node:path";
import { setImmediate, setTimeout } from "node:timers/promises";
import type { Looked, VisitFiles } from "../clinic-folder/visit-files.js";
import type { Knowledge } from "../knowledge/schema.js";
import { type Clinic, checkAgainstClinic } from "../visit/clinic.js";
import { readText } from "../visit/read.js";
import { writtenIn } from "./edit-yaml.js";
import { nameOf } from "./folder.js";
import type { FolderLook } from "./folder-look.js";
import { type Kept, keepList, readKeptList } from "./kept-list.js";
import { areMade } from "./made.js";
import type { ListedVisit, RecipientEntry, Written } from "./messages.js";
import { readAtDesk } from "./read-at-desk.js";
import { isSigned } from "./signed.js";

interface ListedFolder {
  readonly folder: string;
  readonly knowledge: Knowledge;
  readonly today: () => string;
  readonly clinicOf: (visitFile: string) => { readonly clinic?: Clinic };
  readonly look: FolderLook;
  /** Names the knowledge by which visits are read. */
  readonly mark: string;
}

/** Few visits are read whole at once; of many the head first, the rest while nobody asks for anything. */
const FEW = 60;
const TURN_MS = 25;
const QUIET_MS = 1200;

export class VisitList {
  private known: Map<string, Kept> | undefined;
  private asked = 0;
  private reading = false;

  constructor(private readonly desk: ListedFolder) {}

  /** What the last run has seen of the files. */
  remembered(): Iterable<readonly [string, Looked]> {
    const { folder, mark } = this.desk;
    const { visits, looked } = readKeptList(folder, mark);
    this.known ??= new Map(Object.entries(visits));
    return Object.entries(looked).map(([name, seen]) => {
      const file = join(folder, name);
      return [file, { ...seen, scan: { ...seen.scan, file } }] as const;
    });
  }

  /** Told of every request, so that reading on waits for a quiet moment. */
  stir(): void {
    this.asked = Date.now();
  }

  /** The clinic file is another now: what was said of each visit may be so too. */
  forget(): void {
    for (const kept of this.known?.values() ?? []) this.known?.set(kept.listed.file, { ...kept, hash: "" });
  }

  /** Newest first. A file is read again only when it changed. */
  async all(): Promise<ListedVisit[]> {
    const seen = await this.desk.look.refresh();
    this.known ??= new Map();
    const names = seen.files.map((file) => nameOf(this.desk.folder, file));
    const isMany = names.length > FEW;
    let turn = performance.now();
    let isNew = false;
    for (const name of names) {
      const { hash } = seen.visits.scan(join(this.desk.folder, name));
      const before = this.known.get(name);
      if (before?.hash === hash) continue;
      isNew = true;
      this.known.set(name, isMany ? this.head(name, seen.visits) : this.whole(name, hash));
      if (performance.now() - turn < TURN_MS) continue;
      await setImmediate();
      turn = performance.now();
    }
    const there = new Set(names);
    for (const name of this.known.keys()) if (!there.has(name)) this.known.delete(name);
    if (isNew) this.keep(seen.visits);
    if (isMany) void this.readOn();
    return names
      .flatMap((name) => this.known?.get(name) ?? [])
      .map((known) => this.withLetters(known))
      .sort((a, b) => (a.date === b.date ? (a.file < b.file ? -1 : 1) : a.date < b.date ? 1 : -1));
  }

  /** How far the first look at the folder is. */
  progress(): { readonly done: number; readonly of: number } {
    const { done, of } = this.desk.look;
    return { done, of };
  }

  /** Everyone a visit of the folder was sent to, each once, by name. */
  recipients(): RecipientEntry[] {
    const all = [...(this.known?.values() ?? [])].flatMap(({ recipients }) => recipients);
    const byName = new Map(all.map((r) => [`${r.role} ${r.name}`, r]));
    return [...byName.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  /** The patient number after the highest; empty without a patient to go by. */
  nextPatientId(): string {
    const highest = [...(this.known?.values() ?? [])]
      .map(({ listed }) => /^(.*?)(\d+)$/u.exec(listed.patientId))
      .reduce((best, m) => (m && (!best || Number(m[2]) > Number(best[2])) ? m : best), null);
    if (!highest) return "";
    const [, head = "", figures = ""] = highest;
    return `${head}${String(Number(figures) + 1).padStart(figures.length, "0")}`;
  }

  /** The number after the highest, in the habit of the newest visit; empty without a visit to go by. */
  nextId(): string {
    const ids = [...(this.known?.values() ?? [])].map(({ listed }) => /^(.*?)(\d+)$/u.exec(listed.id));
    const year = this.desk.today().slice(0, 4);
    const series = ids.filter((m) => m?.[1]?.includes(year));
    const pool = series.length > 0 ? series : ids;
    const highest = pool.reduce<RegExpExecArray | null>(
      (best, m) => (m && (!best || Number(m[2]) > Number(best[2])) ? m : best),
      null,
    );
    if (!highest) return "";
    const [, head = "", figures = ""] = highest;
    const inYear = series.length > 0 ? head : head.replace(/(?:19|20)\d\d/u, year);
    return `${inYear}${String(Number(figures) + 1).padStart(figures.length, "0")}`;
  }

  private keep(visits: VisitFiles): void {
    const { folder, mark } = this.desk;
    const looked = [...visits.seen()].map(([file, seen]) => [nameOf(folder, file), seen]);
    keepList(folder, mark, {
      visits: Object.fromEntries(this.known ?? []),
      looked: Object.fromEntries(looked),
    });
  }

  /** Reads whole what only the head was looked at, the newest first, while nobody asks for anything. */
  private async readOn(): Promise<void> {
    if (this.reading) return;
    this.reading = true;
    const open = [...(this.known ?? [])]
      .filter(([, { isWhole }]) => !isWhole)
      .sort(([, a], [, b]) => (a.listed.date < b.listed.date ? 1 : -1));
    for (const [name, { hash }] of open) {
      do await setTimeout(5, undefined, { ref: false });
      while (Date.now() - this.asked < QUIET_MS);
      if (this.known?.get(name)?.hash === hash) this.known.set(name, this.whole(name, hash));
    }
    if (open.length > 0) this.keep((await this.desk.look.refresh()).visits);
    this.reading = false;
  }

  /** As much as a look at the head of the file tells. */
  private head(file: string, visits: VisitFiles): Kept {
    const path = join(this.desk.folder, file);
    const { hash, identity } = visits.scan(path);
    const text = readText(path).value ?? "";
    const signed = /^\s*["']?status["']?\s*:\s*["']?signed\b|[{,]\s*status\s*:\s*signed\b/imu.test(text);
    const reason = /^\s+reason\s*:\s*(?:"([^"\n]*)"|'([^'\n]*)'|([^\n#]*))/mu.exec(text);
    const listed: ListedVisit = {
      file,
      id: identity?.visit ?? "",
      patient: [identity?.given, identity?.family].filter(Boolean).join(" "),
      patientId: identity?.patient ?? "",
      born: identity?.born ?? "",
      date: identity?.date ?? "",
      reason: (reason?.[1] ?? reason?.[2] ?? reason?.[3] ?? "").trim(),
      state: identity ? (signed ? "signed" : "draft") : "problems",
      errors: identity ? 0 : 1,
    };
    return { hash, listed, recipients: this.known?.get(file)?.recipients ?? [], isWhole: false };
  }

  private whole(file: string, hash: string): Kept {
    const path = join(this.desk.folder, file);
    const text = readText(path).value ?? "";
    const read = readAtDesk(text, path, this.desk);
    const { clinic } = this.desk.clinicOf(path);
    const ofClinic = read.value && clinic ? checkAgainstClinic(read.value, clinic) : [];
    const errors = [...read.problems, ...ofClinic].filter(({ severity }) => severity === "error").length;
    const written = writtenIn(text);
    const patient = mapIn(written, "patient");
    const name = mapIn(patient, "name");
    const listed: ListedVisit = {
      file,
      id: wordIn(mapIn(written, "visit"), "id"),
      patient: [wordIn(name, "given"), wordIn(name, "family")].filter(Boolean).join(" "),
      patientId: wordIn(patient, "id"),
      born: wordIn(patient, "born"),
      date: wordIn(mapIn(written, "visit"), "date"),
      reason: wordIn(mapIn(written, "visit"), "reason"),
      state: errors > 0 ? "problems" : isSigned(text) ? "signed" : "draft",
      errors,
    };
    const recipients = (read.value?.sendTo ?? [])
      .filter(({ role }) => !/parent|patient|self/iu.test(role))
      .map(({ role, name: called, address }) => ({ role, name: called, address }));
    return { hash, listed, recipients, isWhole: true };
  }

  private withLetters({ listed, hash }: Kept): ListedVisit {
    if (listed.state !== "signed") return listed;
    return areMade(join(this.desk.folder, listed.file), hash) ? { ...listed, state: "made" } : listed;
  }
}

export function mapIn(
  holder: Written | undefined,
  key: string,
): { readonly [key: string]: Written } | undefined {
  const value = isMap(holder) ? holder[key] : undefined;
  return isMap(value) ? value : undefined;
}

export function wordIn(holder: Written | undefined, key: string): string {
  const value = isMap(holder) ? holder[key] : undefined;
  return typeof value === "string" ? value : "";
}

export const isMap = (value: Written | undefined): value is { readonly [key: string]: Written } =>
  typeof value === "object" && value !== null && !Array.isArray(value);
