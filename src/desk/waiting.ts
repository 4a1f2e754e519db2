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
import type { OpenLines, Waiting, WaitingAnswer } from "./list-messages.js";
import type { Quiet } from "./quiet.js";

const TURN_MS = 25;
const QUIET_MS = 1200;
/** Lines that stand on the first page by themselves. */
const FIRST_LINES = 6;
const KEPT_EVERY = 500;

interface WorkedFolder {
  readonly folder: string;
  readonly clinics: ClinicFiles;
  readonly today: () => string;
  readonly folderLook: FolderLook;
  readonly mark: string;
  readonly reader: () => VisitReader;
  readonly registers: ClinicRegisters;
  readonly quiet: Quiet;
}

const isDue = ({ due, urgency }: Waiting): boolean => due || urgency !== null;

/** The first page shows what must be acted on; whoever asks for more gets the lines in their order. */
function first(waiting: readonly Waiting[], most: number): OpenLines {
  const due = waiting.filter(isDue);
  const shown = most === 0 ? due.slice(0, FIRST_LINES) : waiting.slice(0, most);
  return { waiting: shown, due: due.length, of: waiting.length };
}

export class OpenWork {
  private readonly registers = new Registers();
  private found: { readonly key: string; readonly waiting: readonly Waiting[] } | undefined;
  private running: Promise<void> | undefined;
  private done = 0;
  private of = 0;

  constructor(private readonly desk: WorkedFolder) {}

  /** At most a moment later; then how far it is. */
  async answer(most: number, withinMs = 300): Promise<WaitingAnswer> {
    if (!this.running) {
      const seen = await this.desk.folderLook.refresh();
      const key = this.keyOf(seen);
      if (this.found?.key === key) return first(this.found.waiting, most);
      this.running ??= this.workOut(seen, key).finally(() => {
        this.running = undefined;
      });
    }
    const found = this.running.then(() => this.found);
    const done = await Promise.race([found, setTimeout(withinMs, undefined, { ref: false })]);
    return done ? first(done.waiting, most) : { done: this.done, of: this.of };
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
        // A first weighing of thousands takes minutes; a desk that is shut before goes on from here.
        if (clinicFile !== "" && this.done % KEPT_EVERY === 0)
          kept.keep(visits, new Set(own.slice(0, worked.length)));
        if (performance.now() - turn < TURN_MS) continue;
        await setImmediate();
        // Somebody is at work on a visit; this can wait.
        await this.desk.quiet.wait(QUIET_MS);
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
