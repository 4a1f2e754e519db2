/** The marks as they are kept: every change is sent with the text it was made on; another program's marks are never written over unasked. */
import type { Marks } from "../../../picture/marks.js";
import type { MarksState } from "../../messages.js";
import { emptyMarks } from "./edit-marks.js";

export interface MarkerOptions {
  readonly file: string;
  readonly photo: string;
  /** Whose photo it is and of which place, as it stands above the picture. */
  readonly whose: string;
  readonly signed: boolean;
  /** Findings that may be marked, those of the site first. */
  readonly findings: readonly { readonly id: string; readonly term: string }[];
  /** The scope's field of view, where the visit tells it. */
  readonly fieldMm?: number;
  readonly send: (route: string, body: object) => Promise<Response>;
  readonly closed: () => void;
}

const SEND_AFTER_MS = 250;
const MOST_STEPS = 500;

export class Kept {
  marks: Marks;
  saving: "saved" | "saving" = "saved";
  trouble = "";
  isConflict = false;
  private hash: string;
  private past: Marks[] = [];
  private future: Marks[] = [];
  private timer: ReturnType<typeof setTimeout> | undefined;
  private way: Promise<void> = Promise.resolve();
  private readonly listeners = new Set<() => void>();

  private constructor(
    private readonly options: MarkerOptions,
    state: MarksState,
  ) {
    this.hash = state.hash;
    this.marks = state.marks ?? emptyMarks(state.photo);
    const error = state.problems.find(({ severity }) => severity === "error");
    if (error) {
      this.trouble = `The marks beside the photo cannot be used: ${error.message} (line ${error.line}). What you mark here takes their place.`;
    }
  }

  static async open(options: MarkerOptions): Promise<Kept> {
    return new Kept(options, await stateOf(options));
  }

  subscribe(listener: () => void): () => void {
    this.listeners.add(listener);
    return () => this.listeners.delete(listener);
  }

  get canUndo(): boolean {
    return this.past.length > 0;
  }

  get canRedo(): boolean {
    return this.future.length > 0;
  }

  change(marks: Marks): void {
    this.past = [...this.past.slice(-MOST_STEPS), this.marks];
    this.future = [];
    this.take(marks);
  }

  /** Something measured of the picture itself: kept with the next change, and no step of its own. */
  note(marks: Marks): void {
    this.marks = marks;
    this.tell();
  }

  undo(): void {
    const before = this.past.pop();
    if (!before) return;
    this.future.push(this.marks);
    this.take(before);
  }

  redo(): void {
    const next = this.future.pop();
    if (!next) return;
    this.past.push(this.marks);
    this.take(next);
  }

  async takeTheirs(): Promise<void> {
    const state = await stateOf(this.options);
    this.hash = state.hash;
    this.past = [...this.past, this.marks];
    this.marks = state.marks ?? emptyMarks(state.photo);
    this.clear();
    this.saving = "saved";
    this.tell();
  }

  async keepMine(): Promise<void> {
    this.hash = (await stateOf(this.options)).hash;
    this.clear();
    this.take(this.marks);
  }

  /** Waits until everything is written. */
  async settled(): Promise<void> {
    if (this.timer !== undefined) this.sendNow();
    await this.way;
  }

  private clear(): void {
    this.trouble = "";
    this.isConflict = false;
  }

  private take(marks: Marks): void {
    this.marks = marks;
    this.saving = "saving";
    clearTimeout(this.timer);
    if (!this.isConflict) this.timer = setTimeout(() => this.sendNow(), SEND_AFTER_MS);
    this.tell();
  }

  private sendNow(): void {
    clearTimeout(this.timer);
    this.timer = undefined;
    this.way = this.way.then(() => this.write());
  }

  private async write(): Promise<void> {
    if (this.isConflict) return;
    const { file, photo, send } = this.options;
    const { marks } = this;
    try {
      const response = await send("mark", { file, photo, base: this.hash, marks });
      if (response.ok) {
        this.hash = ((await response.json()) as MarksState).hash;
        if (this.marks === marks) this.saving = "saved";
        this.trouble = "";
      } else if (response.status === 409 && "conflict" in ((await response.clone().json()) as object)) {
        this.isConflict = true;
        this.trouble = "Another program changed the marks of this photo while you worked.";
      } else
        this.trouble =
          ((await response.json()) as { refused?: string }).refused ?? "The marks were not taken.";
    } catch {
      this.trouble = "The desk does not answer; the marks are kept here and sent again.";
      this.timer = setTimeout(() => this.sendNow(), 1500);
    }
    this.tell();
  }

  private tell(): void {
    for (const listener of this.listeners) listener();
  }
}

async function stateOf({ send, file, photo }: MarkerOptions): Promise<MarksState> {
  const response = await send("marks", { file, photo });
  if (!response.ok)
    throw new Error(((await response.json()) as { refused?: string }).refused ?? "No such photo.");
  return (await response.json()) as MarksState;
}
