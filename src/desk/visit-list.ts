/** The folder's visits with the state of each: draft, problems, signed, letters made. */

import { join } from "node:path";
import { setImmediate } from "node:timers/promises";
import type { Looked, VisitFiles } from "../clinic-folder/visit-files.js";
import { nameOf } from "./folder.js";
import type { FolderLook, Seen } from "./folder-look.js";
import { type Kept, type KeptList, keepList, readKeptList } from "./kept-list.js";
import { type ListAsked, type ListedVisit, STATES, type VisitsFound } from "./list-messages.js";
import { areMade } from "./made.js";
import type { RecipientEntry } from "./messages.js";
import type { Quiet } from "./quiet.js";
import { type ReadFolder, readHead, readWhole } from "./read-listed.js";

interface ListedFolder extends ReadFolder {
  readonly look: FolderLook;
  /** Names the knowledge by which visits are read. */
  readonly mark: string;
  readonly quiet: Quiet;
}

/** Few visits are read whole at once; of many the head first, the rest while nobody asks for anything. */
const FEW = 60;
const TURN_MS = 25;
const QUIET_MS = 1200;

/** A visit of the list, and what it is found by. */
interface Row {
  readonly hash: string;
  readonly listed: ListedVisit;
  readonly says: string;
}

export class VisitList {
  private known: Map<string, Kept> | undefined;
  private kept: KeptList | undefined;
  /** Edition of the look from which the list was taken last. */
  private taken = 0;
  /** Visits whose letters were there at the last look. */
  private readonly made = new Set<string>();
  private names: { readonly of: readonly string[]; readonly names: readonly string[] } | undefined;
  private rows: readonly Row[] | undefined;
  private reading = false;
  private keeping = false;

  constructor(private readonly desk: ListedFolder) {}

  /** What the last run has seen of the files. */
  remembered(): Iterable<readonly [string, Looked]> {
    const { folder, mark } = this.desk;
    const { visits, looked } = this.kept ?? readKeptList(folder, mark);
    this.kept = undefined;
    this.known ??= new Map(Object.entries(visits));
    return Object.entries(looked).map(([name, seen]) => {
      const file = join(folder, name);
      return [file, { ...seen, scan: { ...seen.scan, file } }] as const;
    });
  }

  /** The clinic file is another now: what was said of each visit may be so too. */
  forget(): void {
    this.taken = 0;
    for (const kept of this.known?.values() ?? []) this.known?.set(kept.listed.file, { ...kept, hash: "" });
  }

  /** True when something can be told without looking at the folder. */
  isKnown(): boolean {
    const files = this.desk.look.seen?.files.length;
    if (files === undefined) {
      this.kept ??= readKeptList(this.desk.folder, this.desk.mark);
      this.known ??= new Map(Object.entries(this.kept.visits));
      return this.known.size > 0;
    }
    return files > FEW;
  }

  /** Looks at every file; one is read again only when it changed. */
  async look(): Promise<void> {
    const seen = await this.desk.look.refresh();
    await this.take(seen);
    if (seen.files.length > FEW) void this.readOn();
  }

  /** What is known, as far as it was looked at; what this desk has written itself is always known. */
  find({ find, most }: Pick<ListAsked, "find" | "most">): VisitsFound {
    this.catchUp();
    const { seen } = this.desk.look;
    this.rows ??= this.inOrder();
    const parts = find.toLowerCase().split(/\s+/u).filter(Boolean);
    const found =
      parts.length === 0
        ? this.rows
        : this.rows.filter(({ says }) => parts.every((part) => says.includes(part)));
    const today = this.desk.today();
    const isToday = ({ listed }: Row) => parts.length === 0 && listed.date === today;
    const shown = (rows: readonly Row[]) => rows.map(({ listed, hash }) => this.withLetters(listed, hash));
    return {
      ofToday: shown(found.filter(isToday)),
      visits: shown(found.filter((row) => !isToday(row)).slice(0, most)),
      found: found.length,
      of: this.rows.length,
      isFresh: seen !== undefined && (seen.files.length <= FEW || this.desk.look.isFresh()),
    };
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

  private async take(seen: Seen): Promise<void> {
    await inTurns(this.changes(seen));
    await inTurns(this.lookForLetters());
    this.rows = undefined;
  }

  /** Of thousands of signed visits, which have their letters takes a moment to find. */
  private *lookForLetters(): Generator<void> {
    for (const { listed, hash } of this.known?.values() ?? []) {
      if (this.withLetters(listed, hash).state === "made") this.made.add(listed.file);
      else this.made.delete(listed.file);
      yield;
    }
  }

  /** Takes over what this desk has written itself since the last look. */
  catchUp(): void {
    const { seen } = this.desk.look;
    if (!seen) this.isKnown();
    else for (const _ of this.changes(seen));
  }

  /** Takes over what changed, a file at a time. */
  private *changes(seen: Seen): Generator<void> {
    const { edition } = this.desk.look;
    if (this.taken === edition) return;
    this.known ??= new Map();
    const { known } = this;
    const names = this.namesOf(seen.files);
    const isMany = names.length > FEW;
    let isNew = false;
    for (const [i, name] of names.entries()) {
      const { hash } = seen.visits.scan(seen.files[i] ?? "");
      if (known.get(name)?.hash === hash) continue;
      isNew = true;
      known.set(
        name,
        isMany ? readHead(this.desk, name, seen.visits, known.get(name)) : readWhole(this.desk, name, hash),
      );
      yield;
    }
    const there = new Set(names);
    for (const name of known.keys()) {
      if (there.has(name)) continue;
      known.delete(name);
      isNew = true;
    }
    this.taken = edition;
    if (!isNew) return;
    this.rows = undefined;
    void this.keepSoon();
  }

  private namesOf(files: readonly string[]): readonly string[] {
    if (this.names?.of !== files)
      this.names = { of: files, names: files.map((file) => nameOf(this.desk.folder, file)) };
    return this.names.names;
  }

  private saysOf(v: ListedVisit): string {
    const state = v.state === "signed" && this.made.has(v.file) ? "made" : v.state;
    return [v.patient, v.patientId, v.id, v.born, v.date, v.reason, STATES[state]].join(" ").toLowerCase();
  }

  private inOrder(): readonly Row[] {
    return [...(this.known?.values() ?? [])]
      .map(({ listed, hash }) => ({ hash, listed, says: this.saysOf(listed) }))
      .sort(({ listed: a }, { listed: b }) =>
        a.date === b.date ? (a.file < b.file ? -1 : 1) : a.date < b.date ? 1 : -1,
      );
  }

  /** Writes down what is known, for the next start, once nobody asks for anything. */
  private async keepSoon(): Promise<void> {
    if (this.keeping) return;
    this.keeping = true;
    await this.desk.quiet.wait(QUIET_MS);
    this.keeping = false;
    const { seen } = this.desk.look;
    if (seen) this.keep(seen.visits);
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
      await setImmediate();
      await this.desk.quiet.wait(QUIET_MS);
      if (this.known?.get(name)?.hash === hash) this.known.set(name, readWhole(this.desk, name, hash));
    }
    this.reading = false;
    if (open.length === 0) return;
    this.rows = undefined;
    void this.keepSoon();
  }

  private withLetters(listed: ListedVisit, hash: string): ListedVisit {
    if (listed.state !== "signed") return listed;
    return areMade(join(this.desk.folder, listed.file), hash) ? { ...listed, state: "made" } : listed;
  }
}

/** Leaves room for other requests between steps. */
async function inTurns(steps: Generator<void>): Promise<void> {
  let turn = performance.now();
  for (const _ of steps) {
    if (performance.now() - turn < TURN_MS) continue;
    await setImmediate();
    turn = performance.now();
  }
}
