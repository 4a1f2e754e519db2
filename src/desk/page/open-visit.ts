/**
 * One open visit on the page: shows a change at once, sends it in order, and keeps what is not yet saved until the server
 * has taken it, however long the server is away.
 */
import { type KeyPath, writePath } from "../../base/yaml-source.js";
import type { Edit, Given, Pane, Refusal, VisitState, Written } from "../messages.js";
import { placesThatDiffer } from "../places.js";
import { apply } from "./apply.js";
import { type Answer, askPeek, askState } from "./ask.js";
import { type Clash, rebase, samePlace } from "./rebase.js";

/** Long enough not to stand in the way of the next keystroke. */
const SETTLE_AFTER_MS = 280;
const RETRY_AFTER_MS = 1500;
const LOOK_EVERY_MS = 2000;
const LEAVE_WITHIN_MS = 2000;

type Holder = { readonly [key: string]: Written };

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
  /** The page's own copy: the server's, with what is still on its way. */
  written: Holder;
  pane: Pane;
  saving: Saving = "saved";
  conflict: Conflict | null = null;
  refusal: Refusal | null = null;
  /** Says that another program's text was taken over, and where it differed. */
  takenOver: readonly string[] | null = null;
  /** Follows an entry of a list to where it stands after another program's change; null when it is gone. */
  onMoved: (follow: (path: KeyPath) => KeyPath | null) => void = () => undefined;
  private queue: Edit[] = [];
  private sending: readonly Edit[] = [];
  /** Sent when the server went away: it may have written them without being able to say so. */
  private unanswered: readonly Edit[] = [];
  private busy = false;
  private timer: ReturnType<typeof setTimeout> | undefined;
  private readonly looking: ReturnType<typeof setInterval>;
  private readonly listeners = new Set<() => void>();

  constructor(state: VisitState, pane: Pane) {
    this.state = state;
    this.written = state.written ?? {};
    this.pane = pane;
    this.looking = setInterval(() => void this.look(), LOOK_EVERY_MS);
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
    this.written = apply(this.written, edits);
    if (this.conflict) this.meet(this.conflict.hash, this.conflict.written);
    this.tell();
    void this.send();
  }

  async show(pane: Pane): Promise<void> {
    this.pane = pane;
    this.tell();
    await this.settle();
  }

  undo = (): Promise<void> => this.step("undo");
  redo = (): Promise<void> => this.step("redo");
  sign = (by: string, digest: string): Promise<void> => this.step("sign", { by, digest });
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
    await this.take(await askState("restore", { file, pane: this.pane, written }));
    await this.send();
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
    else await this.take(await askState("open", { file: this.state.file, pane: this.pane }));
  }

  private async send(): Promise<void> {
    if (this.busy || this.conflict || this.queue.length === 0) return;
    clearTimeout(this.timer);
    this.busy = true;
    this.sending = this.queue;
    this.queue = [];
    this.saving = this.saving === "saved" ? "saving" : this.saving;
    const { file, hash } = this.state;
    const answer = await askState("edit", { file, base: hash, edits: this.sending, pane: this.pane });
    this.busy = false;
    const sent = this.sending;
    this.sending = [];
    if (answer.kind === "away" && this.unanswered.length === 0) this.unanswered = sent;
    const isTaken =
      answer.kind === "done" || (answer.kind === "refused" && whyUnsaved(answer.status) === null);
    if (!isTaken) this.queue = [...sent, ...this.queue];
    await this.take(answer);
    if (isTaken) await this.goOn();
  }

  private async goOn(): Promise<void> {
    if (this.queue.length > 0) return this.send();
    if (!this.state.settled) this.timer = setTimeout(() => void this.settle(), SETTLE_AFTER_MS);
  }

  private async settle(): Promise<void> {
    if (this.busy || this.unsaved) return;
    this.busy = true;
    const answer = await askState("settle", { file: this.state.file, pane: this.pane });
    this.busy = false;
    await this.take(answer);
    await this.send();
  }

  private async step(route: Step, more: object = {}): Promise<void> {
    while (this.busy || this.queue.length > 0) {
      if (this.conflict || (this.saving !== "saved" && this.saving !== "saving")) return;
      await new Promise((resolve) => setTimeout(resolve, 15));
    }
    clearTimeout(this.timer);
    this.busy = true;
    const { file, hash } = this.state;
    const base = route === "make" ? {} : { base: hash };
    const answer = await askState(route, { file, pane: this.pane, ...base, ...more });
    this.busy = false;
    await this.take(answer);
    await this.send();
  }

  /** Notices another program's change, or that the file is gone, while nothing is being typed. */
  private async look(): Promise<void> {
    if (document.hidden || this.busy || this.unsaved || this.conflict) return;
    const answer = await askPeek(this.state.file);
    if (this.busy || this.unsaved) return;
    if (answer.kind === "refused" && whyUnsaved(answer.status) === "gone") {
      if (this.saving === "gone") return;
      this.saving = "gone";
      this.tell();
      return;
    }
    if (answer.kind !== "done") return;
    if (answer.value.hash === this.state.hash) {
      if (this.saving === "gone") this.saving = "saved";
      this.tell();
      return;
    }
    const before = this.state.written ?? {};
    const next = await askState("open", { file: this.state.file, pane: this.pane });
    if (next.kind === "done") this.notice(before, next.value.written ?? {});
    await this.take(next);
  }

  private async take(answer: Answer<VisitState>): Promise<void> {
    if (answer.kind === "done") {
      this.state = answer.value;
      this.unanswered = [];
      this.saving = this.queue.length > 0 ? "saving" : "saved";
      if (!this.refusal?.problems) this.refusal = null;
      this.written = apply(answer.value.written ?? {}, this.queue);
    } else if (answer.kind === "conflict") {
      await this.compare();
    } else if (answer.kind === "refused" && whyUnsaved(answer.status) === null) {
      this.refusal = answer.refusal;
      this.written = apply(this.state.written ?? {}, this.queue);
      this.saving = "saved";
    } else {
      this.tryLater(answer.kind === "refused" ? (whyUnsaved(answer.status) ?? "failing") : "away");
    }
    this.tell();
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
    this.timer = setTimeout(() => void this.send());
  }

  private adopt(hash: string, written: Holder, edits: readonly Edit[]): void {
    this.notice(this.state.written ?? {}, written);
    this.state = { ...this.state, hash, written };
    this.queue = [...edits];
    this.written = apply(written, edits);
  }

  private notice(before: Holder, now: Holder): void {
    this.takenOver = placesThatDiffer(before, now);
    this.onMoved((path) => samePlace(before, now, path));
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

/** Why the server may take later what it refuses now; null when it never will. */
function whyUnsaved(status: number): "shut" | "failing" | "gone" | null {
  if (status === 403) return "shut";
  if (status === 410) return "gone";
  return status >= 500 ? "failing" : null;
}
