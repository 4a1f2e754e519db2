/** The folder's visits with the state of each: draft, problems, signed, letters made. */
import { lstatSync } from "node:fs";
import { join } from "node:path";
import type { VisitFiles } from "../clinic-folder/visit-files.js";
import type { Knowledge } from "../knowledge/schema.js";
import { photosOnDisk } from "../visit/beside-photo.js";
import { type Clinic, checkAgainstClinic } from "../visit/clinic.js";
import { parseVisit, readText } from "../visit/read.js";
import { writtenIn } from "./edit-yaml.js";
import { visitNames } from "./folder.js";
import { madeOf, type Owner } from "./made.js";
import type { ListedVisit, RecipientEntry, Written } from "./messages.js";
import { isSigned } from "./signed.js";

interface Known {
  readonly stamp: string;
  readonly text: string;
  readonly owner: Owner;
  readonly listed: ListedVisit;
  readonly recipients: readonly RecipientEntry[];
}

interface ListedFolder {
  readonly folder: string;
  readonly knowledge: Knowledge;
  readonly today: () => string;
  readonly clinicOf: (visitFile: string) => { readonly clinic?: Clinic };
  readonly look: () => { readonly visits: VisitFiles };
}

export class VisitList {
  private readonly known = new Map<string, Known>();

  constructor(private readonly desk: ListedFolder) {}

  /** Newest first; a file is read again only when it or its clinic changed. */
  all(): ListedVisit[] {
    return this.look()
      .map((known) => this.withLetters(known))
      .sort((a, b) => (a.date === b.date ? (a.file < b.file ? -1 : 1) : a.date < b.date ? 1 : -1));
  }

  /** Everyone a visit of the folder was sent to, each once, by name. */
  recipients(): RecipientEntry[] {
    const byName = new Map(
      this.look().flatMap(({ recipients }) => recipients.map((r) => [`${r.role} ${r.name}`, r])),
    );
    return [...byName.values()].sort((a, b) => (a.name < b.name ? -1 : 1));
  }

  /** The number after the highest, in the habit of the newest visit; empty without a visit to go by. */
  nextId(): string {
    const ids = this.look().map(({ listed }) => /^(.*?)(\d+)$/u.exec(listed.id));
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

  private look(): Known[] {
    return visitNames(this.desk.folder, this.desk.look().visits).map((file) => this.one(file));
  }

  private one(file: string): Known {
    const path = join(this.desk.folder, file);
    const { mtimeMs, size } = lstatSync(path);
    const stamp = `${mtimeMs} ${size}`;
    const before = this.known.get(file);
    if (before?.stamp === stamp) return before;
    const text = readText(path).value ?? "";
    const { beside } = photosOnDisk(path);
    const read = parseVisit(text, path, this.desk.knowledge, { today: this.desk.today(), beside });
    const { clinic } = this.desk.clinicOf(path);
    const ofClinic = read.value && clinic ? checkAgainstClinic(read.value, clinic) : [];
    const errors = [...read.problems, ...ofClinic].filter(({ severity }) => severity === "error").length;
    const written = writtenIn(text);
    const name = mapIn(mapIn(written, "patient"), "name");
    const listed: ListedVisit = {
      file,
      id: wordIn(mapIn(written, "visit"), "id"),
      patient: [wordIn(name, "given"), wordIn(name, "family")].filter(Boolean).join(" "),
      patientId: wordIn(mapIn(written, "patient"), "id"),
      date: wordIn(mapIn(written, "visit"), "date"),
      reason: wordIn(mapIn(written, "visit"), "reason"),
      state: errors > 0 ? "problems" : isSigned(text) ? "signed" : "draft",
      errors,
    };
    const recipients = (read.value?.sendTo ?? []).filter(({ role }) => !/parent|patient|self/iu.test(role));
    const patient = mapIn(written, "patient");
    const owner: Owner = {
      visit: listed.id,
      patient: {
        id: listed.patientId,
        given: wordIn(name, "given"),
        family: wordIn(name, "family"),
        born: wordIn(patient, "born"),
      },
    };
    const known = { stamp, text: listed.state === "signed" ? text : "", owner, listed, recipients };
    this.known.set(file, known);
    return known;
  }

  private withLetters({ listed, text, owner }: Known): ListedVisit {
    if (listed.state !== "signed") return listed;
    const made = madeOf(join(this.desk.folder, listed.file), text, owner);
    return made.length > 0 && made.every(({ current }) => current) ? { ...listed, state: "made" } : listed;
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
