/** What waits in the folder, for the first page: worked out in short turns, and again when a visit or the register changes. */
import { dirname, isAbsolute, relative } from "node:path";
import { setImmediate, setTimeout } from "node:timers/promises";
import { groupBy } from "../base/group.js";
import { workVisit } from "../batch/clinic-work.js";
import { KeptExtracts } from "../batch/kept-extracts.js";
import type { ClinicFiles } from "../clinic-folder/clinic-file.js";
import type { VisitReader } from "../clinic-folder/visit-reader.js";
import { openWork } from "../due/open-work.js";
import type { WorkVisit } from "../due/visits.js";
import { inOrder, WAITING, type WorkLine } from "../due/work-line.js";
import type { ClinicRegisters } from "../register/clinic-registers.js";
import { Registers } from "../register/read.js";
import { nameOf } from "./folder.js";
import type { FolderLook, Seen } from "./folder-look.js";
import type { Waiting, WaitingAnswer } from "./messages.js";

const TURN_MS = 25;
const QUIET_MS = 1200;

interface WorkedFolder {
  readonly folder: string;
  readonly clinics: ClinicFiles;
  readonly today: () => string;
  readonly folderLook: FolderLook;
  readonly mark: string;
  readonly reader: () => VisitReader;
  readonly registers: ClinicRegisters;
}

export class OpenWork {
  private readonly registers = new Registers();
  private found: { readonly key: string; readonly waiting: readonly Waiting[] } | undefined;
  private running: Promise<void> | undefined;
  private done = 0;
  private of = 0;
  private asked = 0;

  constructor(private readonly desk: WorkedFolder) {}

  stir(): void {
    this.asked = Date.now();
  }

  /** At most a moment later; then how far it is. */
  async answer(withinMs = 300): Promise<WaitingAnswer> {
    const seen = await this.desk.folderLook.refresh();
    const key = this.keyOf(seen);
    if (this.found?.key === key) return { waiting: this.found.waiting };
    this.running ??= this.workOut(seen, key).finally(() => {
      this.running = undefined;
    });
    await Promise.race([this.running, setTimeout(withinMs, undefined, { ref: false })]);
    return this.found?.key === key ? { waiting: this.found.waiting } : { done: this.done, of: this.of };
  }

  private keyOf({ files, visits }: Seen): string {
    const hashes = files.map((file) => visits.scan(file).hash).join("");
    const registers = this.clinicFolders(files).map((folder) => this.registers.of(folder).lines.length);
    return `${this.desk.today()} ${registers.join()} ${hashes}`;
  }

  private clinicFolders(files: readonly string[]): string[] {
    const { clinics } = this.desk;
    return [...new Set(files.map((file) => clinics.fileOf(file)))].flatMap((file) =>
      file === undefined ? [] : [dirname(file)],
    );
  }

  private async workOut({ visits, people, files }: Seen, key: string): Promise<void> {
    const { clinics, today, mark } = this.desk;
    const around = { visits, people, clinics, reader: this.desk.reader(), registers: this.desk.registers };
    this.of = files.length;
    this.done = 0;
    const lines: WorkLine[] = [];
    let turn = performance.now();
    for (const [clinicFile, own] of groupBy(files, (file) => clinics.fileOf(file) ?? "")) {
      const folder = dirname(clinicFile || (own[0] ?? ""));
      const kept = new KeptExtracts(folder, mark);
      const worked: WorkVisit[] = [];
      for (const file of own) {
        worked.push(workVisit(file, around, kept));
        this.done++;
        if (performance.now() - turn < TURN_MS) continue;
        await setImmediate();
        // Somebody is at work on a visit; this can wait.
        while (Date.now() - this.asked < QUIET_MS) await setTimeout(20, undefined, { ref: false });
        turn = performance.now();
      }
      if (clinicFile !== "") kept.keep(visits, new Set(own));
      const register = this.registers.of(folder);
      const named = new Set(worked.map((v) => v.identity?.visit));
      const ofThese = register.lines.filter((line) => !("visit" in line) || named.has(line.visit));
      const { lateAfter = {}, people: staff = {} } = clinics.of(own[0] ?? "").clinic ?? {};
      lines.push(
        ...openWork(worked, register.exists ? ofThese : null, { lateAfter, people: staff }, today()),
      );
    }
    this.found = { key, waiting: inOrder(lines).map((line) => this.shown(line)) };
  }

  private shown(line: WorkLine): Waiting {
    const { kind, urgency, due, what, who, patient, since, by, path } = line;
    const inside =
      path !== "" &&
      !isAbsolute(relative(this.desk.folder, path)) &&
      !relative(this.desk.folder, path).startsWith("..");
    return {
      kind,
      heading: WAITING[kind].says,
      closes: WAITING[kind].closes,
      urgency,
      due,
      what,
      who,
      patient: patient.name,
      patientId: patient.id,
      since,
      by,
      file: inside ? nameOf(this.desk.folder, path) : "",
    };
  }
}
