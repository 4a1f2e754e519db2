/**
 * An invented clinic over many days: visits, corrections, results, postings, withdrawals, a second machine, crashes. It keeps its
 * own account of what is open and what was sent, by what happened and not by any rule of the product.
 */
import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { inPackage } from "../../src/base/root.js";
import { leaving } from "../../src/batch/leaving.js";
import { type MadeDocument, makeDocuments } from "../../src/batch/make.js";
import { prepareVisit } from "../../src/batch/prepare.js";
import { VisitReader } from "../../src/clinic-folder/visit-reader.js";
import { extractOf } from "../../src/due/extract.js";
import type { WorkVisit } from "../../src/due/visits.js";
import { loadKnowledge } from "../../src/knowledge/load.js";
import { renderText } from "../../src/page/text.js";
import { beginRegister } from "../../src/register/append.js";
import { documentsIn, type RegisteredDocument } from "../../src/register/documents.js";
import { knownEditions } from "../../src/register/editions.js";
import { keepContent } from "../../src/register/kept.js";
import { mergeRegister } from "../../src/register/merge.js";
import { type Register, Registers } from "../../src/register/read.js";
import { recordMade, signedVisit } from "../../src/register/record.js";
import { markSent, withdraw } from "../../src/register/sending.js";
import { signatureOf } from "../../src/register/sign.js";
import { type Clinic, readClinic } from "../../src/visit/clinic.js";
import { parseVisit } from "../../src/visit/read.js";
import { identityOf } from "../../src/visit/same-patient.js";
import type { Visit } from "../../src/visit/visit.js";
import { writeVisit } from "../../src/visit/write.js";

/** Draws that one seed gives always alike. */
export type Draw = (below: number) => number;

interface TrueLetter {
  readonly reader: string;
  readonly edition: number;
  readonly sha256: string;
  readonly day: string;
  state: "waiting" | "sent" | "withdrawn";
}

interface TrueVisit {
  readonly id: string;
  readonly patient: number;
  readonly day: string;
  readonly file: string;
  readonly followUp: number;
  readonly readers: readonly string[];
  signed: boolean;
  edition: number;
  madeEdition: number;
  letters: TrueLetter[];
  reason: number;
}

export const dayAfter = (start: string, days: number): string =>
  new Date(Date.parse(start) + days * 86_400_000).toISOString().slice(0, 10);

const READERS = ["Dr Ilse Brandt", "Dr Tomos Achterberg"];

export class ClinicDays {
  readonly work = new Map<string, WorkVisit>();
  /** Bytes of everything that was sent, by hash. */
  readonly sent = new Map<string, Uint8Array>();
  readonly counts = {
    visits: 0,
    signed: 0,
    made: 0,
    corrected: 0,
    results: 0,
    sent: 0,
    withdrawn: 0,
    crashes: 0,
    merged: 0,
  };
  private readonly visits: TrueVisit[] = [];
  /** Awaited tests by name, with the visit that waits. */
  private readonly awaited = new Map<string, { patient: number; visit: string; day: string }>();
  private readonly bytes = new Map<string, Uint8Array>();
  private readonly registers = new Registers();
  private readonly reader: VisitReader;
  private readonly clinic: Clinic;
  private readonly away: string;
  private isAway = false;
  private sentAway: string[] = [];
  private tests = 0;

  constructor(
    readonly folder: string,
    private readonly patients: number,
    private readonly draw: Draw,
  ) {
    this.away = `${folder}-away`;
    mkdirSync(join(folder, "visits"), { recursive: true });
    copyFileSync(inPackage("examples", "clinic.yaml"), join(folder, "clinic.yaml"));
    const { value, problems } = readClinic(join(folder, "clinic.yaml"));
    if (!value) throw new Error(problems[0]?.message);
    const { logo: _, ...clinic } = value;
    this.clinic = clinic;
    beginRegister(folder);
    this.reader = new VisitReader(loadKnowledge(), "2999-01-01");
  }

  async live(day: string): Promise<void> {
    for (let n = this.draw(3); n >= 0; n -= 1) this.see(day);
    for (let n = this.draw(4); n > 0; n -= 1) await this.makeOne();
    for (const visit of this.visits) {
      if (!visit.signed && this.draw(3) === 0) this.sign(visit, day);
      else if (visit.signed && this.draw(60 + this.visits.length) === 0) this.reopen(visit);
    }
    for (let n = this.draw(4); n > 0; n -= 1) this.post(day);
    if (this.draw(15) === 0) this.withdrawOne();
    if (this.draw(5) === 0) this.crash();
    if (this.draw(7) === 0) this.travel();
  }

  /** What waits on a day, as this account has it. */
  open(day: string): string[] {
    const lines: string[] = [];
    for (const visit of this.visits) {
      if (!visit.signed) lines.push(`draft ${visit.id}`);
      else if (visit.madeEdition < visit.edition) lines.push(`not-made ${visit.id} ${visit.edition}`);
      for (const reader of visit.readers) {
        const newest = visit.letters.filter((letter) => letter.reader === reader).at(-1);
        const isAwayYet = newest !== undefined && this.sentAway.includes(newest.sha256);
        if (newest && (newest.state === "waiting" || isAwayYet))
          lines.push(`not-sent ${visit.id} ${newest.edition} ${reader}`);
      }
      const cameAgain = this.visits.some((one) => one.patient === visit.patient && one.day > visit.day);
      if (visit.followUp > 0 && !cameAgain && day > dayAfter(visit.day, visit.followUp * 7 + 6))
        lines.push(`follow-up-missed ${visit.id}`);
    }
    for (const [name, { visit }] of this.awaited) lines.push(`test-awaited ${visit} ${name}`);
    return lines.sort();
  }

  private see(day: string): void {
    const patient = this.draw(this.patients);
    if (this.visits.some((one) => one.patient === patient && one.day === day)) return;
    const n = this.visits.length + 1;
    const id = `TS-${String(n).padStart(5, "0")}`;
    const results = [...this.awaited].filter(([, one]) => one.patient === patient && this.draw(3) > 0);
    const orders = this.draw(3) === 0 ? [`fungal culture ${++this.tests}`] : [];
    const tests = [
      ...results.map(([name], i) =>
        i % 2 === 0
          ? `  - { name: ${name}, result: no growth }`
          : `  - { name: mycology ${n}, result: no growth, result_of: ${name} }`,
      ),
      ...orders.map((name) => `  - { name: ${name}, result: awaited }`),
    ];
    const followUp = this.draw(3) === 0 ? 1 + this.draw(8) : 0;
    const readers = this.draw(3) === 0 ? READERS : READERS.slice(0, 1);
    const file = join(this.folder, "visits", `${id}.yaml`);
    writeFileSync(file, visitText({ id, day, patient, tests, followUp, readers }));
    for (const [name] of results) this.awaited.delete(name);
    for (const name of orders) this.awaited.set(name, { patient, visit: id, day });
    this.counts.results += results.length;
    this.counts.visits += 1;
    const visit: TrueVisit = {
      id,
      patient,
      day,
      file,
      followUp,
      readers,
      signed: false,
      edition: 0,
      madeEdition: 0,
      letters: [],
      reason: 0,
    };
    this.visits.push(visit);
    this.look(visit);
    if (this.draw(3) > 0) this.sign(visit, day);
  }

  register(): Register {
    return this.registers.of(this.folder);
  }

  private read({ file }: TrueVisit): Visit {
    const { value, problems } = parseVisit(readFileSync(file, "utf8"), file, this.reader.knowledge);
    if (!value) throw new Error(`${file}: ${JSON.stringify(problems)}`);
    return value;
  }

  private write(visit: TrueVisit, content: Visit): void {
    writeFileSync(visit.file, writeVisit(content, this.reader.knowledge));
    this.look(visit);
  }

  /** As open work sees the visit now. */
  private look(visit: TrueVisit): void {
    const { value } = this.prepare(visit);
    const content = this.read(visit);
    if (!value) throw new Error(`${visit.file} cannot be prepared`);
    const { measures, interpretation } = value.examined;
    this.work.set(visit.id, {
      path: visit.file,
      identity: identityOf(content),
      extract: extractOf(content, measures, interpretation, this.reader.knowledge),
      doubts: [],
    });
  }

  prepare(visit: Pick<TrueVisit, "file" | "id">) {
    const editions = knownEditions(this.register().lines, visit.id);
    return prepareVisit({ file: visit.file, beside: [], clinic: this.clinic, reader: this.reader, editions });
  }

  private sign(visit: TrueVisit, day: string): void {
    const content = this.read(visit);
    const { lines } = this.register();
    const act = signatureOf(content, {
      by: "anneli-thorsby",
      at: new Date(`${day}T10:00:00Z`),
      photos: undefined,
      lines,
    });
    this.write(visit, { ...content, status: "signed", signed: act });
    visit.signed = true;
    visit.edition += 1;
    this.counts.signed += 1;
    // Now and then the program is killed between the visit file and the register.
    if (this.draw(12) === 0) return;
    const signed = signedVisit(this.read(visit));
    const text = () => readFileSync(visit.file);
    if (signed) recordMade(this.folder, [{ signed, text, documents: [] }], { how: "sign" });
  }

  private reopen(visit: TrueVisit): void {
    const before = readFileSync(visit.file, "utf8");
    const content = this.read(visit);
    if (!content.signed) return;
    visit.reason += 1;
    const changed = { ...content, reason: `Patches, told anew ${visit.reason}.` };
    // A signed visit that is changed is no longer signed, whoever changes it.
    writeFileSync(visit.file, writeVisit(changed, this.reader.knowledge));
    const { value, problems } = this.prepare(visit);
    if (value || !problems.some(({ id }) => id === "changed-since-signing"))
      throw new Error(`${visit.id} was changed after signing, and nobody said so`);
    writeFileSync(visit.file, before);
    const signed = { ...content.signed, reason: `Correction ${visit.reason}.` };
    this.write(visit, { ...changed, status: "draft", signed });
    visit.signed = false;
    this.counts.corrected += 1;
  }

  private async makeOne(): Promise<void> {
    const waiting = this.visits.filter((one) => one.signed && one.madeEdition < one.edition);
    const visit = waiting[this.draw(Math.max(1, waiting.length))];
    if (!visit) return;
    const { value } = this.prepare(visit);
    if (!value) throw new Error(`${visit.id} cannot be made`);
    const { examined, editions } = value;
    const { made, problems } = await makeDocuments(examined, {
      knowledge: this.reader.knowledge,
      clinic: this.clinic,
      documents: ["referral-letter"],
      format: "pdf",
      ...(editions ? { editions } : {}),
    });
    if (made.length !== visit.readers.length) throw new Error(JSON.stringify(problems));
    const leaves = leaving(examined.visit, made, () => readFileSync(visit.file));
    if (!leaves) return;
    if (this.draw(10) === 0) {
      // Killed after the first content was kept, before any line.
      keepContent(this.folder, [{ bytes: made[0]?.bytes ?? new Uint8Array(), kind: "pdf" }]);
      this.counts.crashes += 1;
      return;
    }
    recordMade(this.folder, [leaves], { how: "letter" });
    for (const document of made) this.account(visit, document);
    visit.madeEdition = visit.edition;
    this.counts.made += made.length;
  }

  private account(visit: TrueVisit, document: MadeDocument): void {
    const reader = document.recipient?.name ?? "";
    const before = visit.letters.filter((one) => one.reader === reader && one.edition < visit.edition).at(-1);
    const says = renderText(document.letter).includes("This letter replaces ours of");
    if (says !== (before !== undefined))
      throw new Error(`${visit.id}, edition ${visit.edition}: what it replaces is ${says ? "" : "not "}said`);
    const day = this.read(visit).signed?.at.slice(0, 10) ?? "";
    const { sha256 } = document;
    visit.letters.push({ reader, edition: visit.edition, sha256, day, state: "waiting" });
    this.bytes.set(sha256, document.bytes);
  }

  /** Letters that may be posted: the newest to each reader, while it waits. */
  private postable(): { visit: TrueVisit; letter: TrueLetter }[] {
    return this.visits.flatMap((visit) =>
      visit.readers.flatMap((reader) => {
        const letter = visit.letters.filter((one) => one.reader === reader).at(-1);
        return letter?.state === "waiting" ? [{ visit, letter }] : [];
      }),
    );
  }

  private registered(folder: string, { sha256, reader }: TrueLetter): RegisteredDocument | undefined {
    return documentsIn(this.registers.of(folder).lines).findLast(
      ({ made }) => made.sha256 === sha256 && made.addressee?.name === reader,
    );
  }

  private post(on: string): void {
    const all = this.postable();
    const one = all[this.draw(Math.max(1, all.length))];
    if (!one) return;
    const isAway = this.isAway && this.draw(2) === 0;
    const folder = isAway ? this.away : this.folder;
    const found = this.registered(folder, one.letter);
    if (!found) {
      if (!isAway) throw new Error(`${one.visit.id}: the register does not know what was made`);
      return;
    }
    const marked = markSent(folder, [found.made.hash], { by: "wen-castellane", how: "post", on });
    if (marked.length !== 1) throw new Error(`${one.visit.id}: what waits could not be sent`);
    one.letter.state = "sent";
    if (isAway) this.sentAway.push(one.letter.sha256);
    this.sent.set(one.letter.sha256, this.bytes.get(one.letter.sha256) ?? new Uint8Array());
    this.counts.sent += 1;
  }

  private withdrawOne(): void {
    const all = this.postable();
    const one = all[this.draw(Math.max(1, all.length))];
    const found = one && this.registered(this.folder, one.letter);
    if (!one || !found) return;
    withdraw(this.folder, [found.made.hash], { by: "anneli-thorsby", reason: "wrong address" });
    one.letter.state = "withdrawn";
    this.counts.withdrawn += 1;
  }

  /** What a kill or a power cut leaves: half a line, or a line that nothing vouches for yet. */
  private crash(): void {
    const file = join(this.folder, "register.jsonl");
    const { lines } = this.register();
    if (lines.length < 3) return;
    const text = readFileSync(file, "utf8");
    const line = text.trimEnd().split("\n").at(-1) ?? "";
    if (this.draw(2) === 0) writeFileSync(file, text + line.slice(0, 1 + this.draw(line.length - 2)));
    else {
      const last = lines.at(-2);
      writeFileSync(
        join(this.folder, "register", "last.json"),
        JSON.stringify({ hash: last?.hash, lines: last?.line }),
      );
    }
    this.counts.crashes += 1;
  }

  /** A second machine takes a copy of the register along, and brings it back some days later. */
  private travel(): void {
    const { exists } = this.register();
    if (!exists) return;
    if (!this.isAway) {
      mkdirSync(join(this.away, "register"), { recursive: true });
      for (const name of ["register.jsonl", "register/last.json"])
        copyFileSync(join(this.folder, name), join(this.away, name));
    } else {
      const result = mergeRegister(this.folder, this.away, "wen-castellane");
      if (result.kind === "refused") throw new Error(JSON.stringify(result.problems));
      this.sentAway = [];
      this.counts.merged += 1;
    }
    this.isAway = !this.isAway;
  }
}

function visitText(visit: {
  readonly id: string;
  readonly day: string;
  readonly patient: number;
  readonly tests: readonly string[];
  readonly followUp: number;
  readonly readers: readonly string[];
}): string {
  const { id, day, patient, tests, followUp, readers } = visit;
  return [
    "format: 1",
    `visit: { id: ${id}, date: ${day}, status: draft, seen_by: anneli-thorsby, reason: Patches. }`,
    "patient:",
    `  id: P-${patient}`,
    `  name: { given: Ada, family: Vale${patient} }`,
    "  born: 1980-01-01",
    "  sex: female",
    "send_to:",
    ...readers.map(
      (name) => `  - { role: general practitioner, name: ${name}, address: [Quayside Practice, Tarn Sound] }`,
    ),
    "impression:",
    "  - { disorder: alopecia areata, certainty: probable }",
    ...(tests.length > 0 ? ["tests:", ...tests] : []),
    "plan:",
    "  - { who: clinic, action: We shall look again. }",
    ...(followUp > 0 ? [`follow_up: { weeks: ${followUp} }`] : []),
    "",
  ].join("\n");
}
