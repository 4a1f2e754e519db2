/**
 * One open visit on the page: shows a change at once, sends it in order, and keeps what is not yet saved until the server
 * has taken it, however long the server is away.
 */

import type { Problem } from "../../base/problem.js";
import { type KeyPath, readPath, writePath } from "../../base/yaml-source.js";
import type { Edit, Given, Pane, Refusal, Shown, VisitState } from "../messages.js";
import { placesThatDiffer } from "../places.js";
import type { Holder } from "./align.js";
import { apply } from "./apply.js";
import { type Answer, askPeek, askState } from "./ask.js";
import { PageCopy } from "./page-copy.js";
import { type Clash, rebase, samePlace } from "./rebase.js";

/** Long enough not to stand in the way of the next keystroke. */
const SETTLE_AFTER_MS = 280;
const RETRY_AFTER_MS = 1500;
const LOOK_EVERY_MS = 2000;
const LEAVE_WITHIN_MS = 2000;

/** The file as another program left it, where it meets what was typed here. */
interface Conflict {
  readonly hash: string;
  readonly written: Holder;
  readonly clashes: readonly Clash[];
}

/** away: the server does not answer. shut: it was started anew. failing: it cannot write. gone: the file was moved or deleted. */
export type Saving = "saved" | "saving" | "away" | "shut" | "failing" | "gone";

type Step = "undo" | "redo" | "sign" | "reopen" | "make";

export class OpenVisit {
  state: VisitState;
  pane: Pane;
  /** Whose letter is on show, counted from 0. */
  reader = 0;
  saving: Saving = "saved";
  conflict: Conflict | null = null;
  refusal: Refusal | null = null;
  /** Says that another program's text was taken over, and where it differed. */
  takenOver: readonly string[] | null = null;
  /** The server's text, with what is still on its way. */
  private readonly copy: PageCopy;
  private queue: Edit[] = [];
  private sending: readonly Edit[] = [];
  /** Sent when the server went away: it may have written them without being able to say so. */
  private unanswered: readonly Edit[] = [];
  private busy = false;
  /** A look at the whole was asked for while a conversation went on. */
  private due = false;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private readonly looking: ReturnType<typeof setInterval>;
  private readonly listeners = new Set<() => void>();

  constructor(state: VisitState, pane: Pane) {
    this.state = state;
    this.copy = new PageCopy(state.written ?? {});
    this.pane = pane;
    this.looking = setInterval(() => void this.look(), LOOK_EVERY_MS);
    // Once the form is drawn.
    if (!state.settled) this.timer = setTimeout(() => void this.settle());
  }

  get written(): Holder {
    return this.copy.written;
  }

  /** Index of the site being recorded; -1 when there is none, or when the one that was chosen is gone. */
  get site(): number {
    return this.copy.site;
  }

  /** Its name, which stays the same wherever it moves. */
  get siteName(): string {
    return this.copy.siteName;
  }

  chooseSite(index: number): void {
    this.copy.chooseSite(index);
    this.tell();
  }

  /** Names of a list's entries, then the name that the next one will have. */
  rowsAt(path: KeyPath): readonly string[] {
    return this.copy.rowsAt(path);
  }

  /** What the server last said, each at the place where its entry stands on the page now. */
  get problems(): readonly Problem[] {
    const { problems, written } = this.state;
    if (!this.unsaved || written === null) return problems;
    return problems.flatMap((problem) => {
      if (problem.path?.includes("[") !== true) return [problem];
      const now = samePlace(written, this.written, readPath(problem.path));
      return now === null ? [] : [{ ...problem, path: writePath(now) }];
    });
  }

  private get shown(): Shown {
    return { pane: this.pane, reader: this.reader };
  }

  get unsaved(): boolean {
    return this.queue.length > 0 || this.sending.length > 0;
  }

  /** Waits a moment for what is on its way; true when all of it is saved. */
  async isSaved(): Promise<boolean> {
    for (let waited = 0; waited < LEAVE_WITHIN_MS && this.unsaved; waited += 20)
      await new Promise((resolve) => setTimeout(resolve, 20));
    return !this.unsaved;
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  close(): void {
    clearInterval(this.looking);
    clearTimeout(this.timer);
  }

  /** Sets a place, or removes it when the text is empty. */
  put(path: KeyPath, value: Given): void {
    this.edit(value === "" ? { do: "remove", path } : { do: "set", path, value });
  }

  remove(path: KeyPath): void {
    this.edit({ do: "remove", path });
  }

  edit(...edits: readonly Edit[]): void {
    if (this.state.signed) return;
    for (const edit of edits) {
      const before = this.queue.at(-1);
      // Only the last text of one place is sent.
      if (
        before &&
        before.do === edit.do &&
        edit.do === "set" &&
        writePath(before.path) === writePath(edit.path)
      )
        this.queue.pop();
      this.queue.push(edit);
    }
    for (const edit of edits) this.copy.make(edit);
    if (this.saving === "saved") this.saving = "saving";
    if (this.conflict) this.meet(this.conflict.hash, this.conflict.written);
    this.tell();
    void this.send();
  }

  async show(pane: Pane): Promise<void> {
    this.pane = pane;
    this.tell();
    await this.settle();
  }

  /** Shows the letter to another of its readers. */
  async showReader(reader: number): Promise<void> {
    this.reader = reader;
    await this.show(this.pane);
  }

  undo = (): Promise<void> => this.step("undo");
  redo = (): Promise<void> => this.step("redo");
  /** `reason` says why a signed edition is replaced, where nobody has said so yet. */
  sign = (by: string, digest: string, reason?: string): Promise<void> =>
    this.step("sign", { by, digest, ...(reason === undefined ? {} : { reason }) });
  reopen = (reason: string): Promise<void> => this.step("reopen", { reason });
  make = (): Promise<void> => this.step("make");

  dismiss(): void {
    this.refusal = null;
    this.takenOver = null;
    this.tell();
  }

  /** Writes a file again that was moved or deleted, then saves what waits. */
  async restore(): Promise<void> {
    const { file, written } = this.state;
    await this.talk(async () => this.take(await askState("restore", { file, ...this.shown, written })));
  }

  /** `mine` writes what was typed here over theirs, in the very places both touched; `theirs` leaves those as the file has them. */
  async resolve(keep: "mine" | "theirs"): Promise<void> {
    const { conflict } = this;
    if (!conflict) return;
    const { edits, clashes } = rebase(this.state.written ?? {}, conflict.written, this.queue);
    this.conflict = null;
    this.adopt(conflict.hash, conflict.written, [
      ...edits,
      ...(keep === "mine" ? clashes.flatMap((clash) => clash.keep) : []),
    ]);
    this.tell();
    if (this.queue.length > 0) await this.send();
    else await this.settle();
  }

  /** One conversation with the server at a time: what is typed meanwhile waits, and is sent after it. */
  private async talk(say: () => Promise<void>): Promise<void> {
    this.busy = true;
    try {
      await say();
    } finally {
      this.busy = false;
    }
    if (this.queue.length > 0 && (this.saving === "saved" || this.saving === "saving")) void this.send();
    else if (this.due) void this.settle();
  }

  private async send(): Promise<void> {
    if (this.busy || this.conflict || this.queue.length === 0) return;
    clearTimeout(this.timer);
    await this.talk(async () => {
      this.sending = this.queue;
      this.queue = [];
      const { file, hash } = this.state;
      const answer = await askState("edit", { file, base: hash, edits: this.sending, ...this.shown });
      const sent = this.sending;
      this.sending = [];
      if (answer.kind === "away" && this.unanswered.length === 0) this.unanswered = sent;
      const isTaken =
        answer.kind === "done" || (answer.kind === "refused" && whyUnsaved(answer.status) === null);
      if (!isTaken) this.queue = [...sent, ...this.queue];
      await this.take(answer, answer.kind === "done" ? sent : []);
    });
    if (!this.unsaved && !this.conflict && !this.state.settled)
      this.timer = setTimeout(() => void this.settle(), SETTLE_AFTER_MS);
  }

  /** Weighs again when something beside the visit has changed, such as the marks of a photo. */
  weigh(): Promise<void> {
    return this.settle();
  }

  private async settle(): Promise<void> {
    this.due = this.busy || this.unsaved;
    if (this.due) return;
    clearTimeout(this.timer);
    await this.talk(async () =>
      this.take(await askState("settle", { file: this.state.file, ...this.shown })),
    );
  }

  private async step(route: Step, more: object = {}): Promise<void> {
    while (this.busy || this.queue.length > 0) {
      if (this.conflict || (this.saving !== "saved" && this.saving !== "saving")) return;
      await new Promise((resolve) => setTimeout(resolve, 15));
    }
    clearTimeout(this.timer);
    await this.talk(async () => {
      const { file, hash } = this.state;
      const base = route === "make" ? {} : { base: hash };
      const answer = await askState(route, { file, ...this.shown, ...base, ...more });
      // The step itself changes the text; that is no other program's change.
      await this.take(answer, answer.kind === "done" && route !== "make" ? "its own" : []);
    });
  }

  /** Notices another program's change, or that the file is gone, while nothing is being typed. */
  private async look(): Promise<void> {
    if (document.hidden || this.busy || this.unsaved || this.conflict) return;
    await this.talk(async () => {
      const answer = await askPeek(this.state.file);
      if (answer.kind === "refused" && whyUnsaved(answer.status) === "gone") {
        if (this.saving === "gone") return;
        this.saving = "gone";
        this.tell();
        return;
      }
      if (answer.kind !== "done") return;
      if (answer.value.hash !== this.state.hash)
        return this.take(await askState("open", { file: this.state.file, ...this.shown }));
      if (this.saving === "gone") this.saving = "saved";
      this.tell();
      if (!this.state.settled) this.due = true;
    });
  }

  /** `sent` is what the answer has taken in; `its own` when the text was changed by what was asked for. */
  private async take(answer: Answer<VisitState>, sent: readonly Edit[] | "its own" = []): Promise<void> {
    if (answer.kind === "done") this.arrive(answer.value, sent);
    else if (answer.kind === "conflict") await this.compare();
    else if (answer.kind === "refused" && whyUnsaved(answer.status) === null) {
      this.refusal = answer.refusal;
      this.copy.replace(apply(this.state.written ?? {}, this.queue));
      this.saving = "saved";
    } else this.tryLater(answer.kind === "refused" ? (whyUnsaved(answer.status) ?? "failing") : "away");
    this.tell();
  }

  /**
   * A state of the server takes the place of the last one. Its text may hold another program's change beside what was sent, and
   * what waits here was made on the text before: it is followed to where its entries stand now, like any other change.
   */
  private arrive(state: VisitState, sent: readonly Edit[] | "its own"): void {
    const before = sent === "its own" ? (this.state.written ?? {}) : apply(this.state.written ?? {}, sent);
    const now = state.written ?? {};
    // Nothing can be put into a text that is no visit; what was typed waits until it is one again.
    if (state.written === null && this.queue.length > 0) {
      this.tryLater("failing");
      return;
    }
    this.unanswered = [];
    if (!this.refusal?.problems) this.refusal = null;
    const differs = sent !== "its own" && placesThatDiffer(before, now).length > 0;
    const { edits, clashes } = rebase(before, now, this.queue);
    if (clashes.length > 0) {
      this.state = { ...state, written: before };
      this.conflict = { hash: state.hash, written: now, clashes };
      return;
    }
    if (differs && state.written !== null) this.takenOver = placesThatDiffer(before, now);
    this.state = keepSame(this.state, state);
    this.queue = [...edits];
    this.saving = this.queue.length > 0 ? "saving" : "saved";
    if (state.written !== null) this.copy.replace(apply(now, this.queue));
  }

  /** A file that differs only by what this page itself had sent, or elsewhere than what was typed here, is no conflict. */
  private async compare(): Promise<void> {
    const answer = await askPeek(this.state.file);
    if (answer.kind !== "done") {
      this.tryLater(answer.kind === "refused" ? (whyUnsaved(answer.status) ?? "failing") : "away");
      return;
    }
    const { hash, written } = answer.value;
    const sent = apply(this.state.written ?? {}, this.unanswered);
    if (this.unanswered.length > 0 && placesThatDiffer(sent, written).length === 0) {
      this.state = { ...this.state, hash, written };
      const taken = this.unanswered;
      this.queue = this.queue.filter((edit) => !taken.includes(edit));
      this.unanswered = [];
      this.timer = setTimeout(() => void (this.queue.length > 0 ? this.send() : this.settle()));
    } else if (written === null) {
      // Nothing can be put into a text that is no visit; what was typed waits until it is one again.
      this.tryLater("failing");
    } else this.meet(hash, written);
  }

  /** What was typed here against a text that somebody else wrote meanwhile. */
  private meet(hash: string, written: Holder): void {
    const { edits, clashes } = rebase(this.state.written ?? {}, written, this.queue);
    if (clashes.length > 0) {
      this.conflict = { hash, written, clashes };
      return;
    }
    this.conflict = null;
    this.adopt(hash, written, edits);
    this.timer = setTimeout(() => void (this.queue.length > 0 ? this.send() : this.settle()));
  }

  private adopt(hash: string, written: Holder, edits: readonly Edit[]): void {
    this.takenOver = placesThatDiffer(this.state.written ?? {}, written);
    this.state = { ...this.state, hash, written };
    this.queue = [...edits];
    this.copy.replace(apply(written, edits));
  }

  private tryLater(saving: "away" | "shut" | "failing" | "gone"): void {
    this.saving = saving;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => void this.send(), RETRY_AFTER_MS);
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }
}

/** The state that came, with every part of it that says what the last one said: what is drawn of that part stays. */
function keepSame(last: VisitState, now: VisitState): VisitState {
  const same = Object.entries(last).filter(
    ([key, value]) => JSON.stringify(value) === JSON.stringify(now[key as keyof VisitState]),
  );
  return { ...now, ...Object.fromEntries(same) };
}

/** Why the server may take later what it refuses now; null when it never will. */
function whyUnsaved(status: number): "shut" | "failing" | "gone" | null {
  if (status === 403) return "shut";
  if (status === 410) return "gone";
  return status >= 500 ? "failing" : null;
}
