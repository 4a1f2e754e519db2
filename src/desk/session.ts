/** One open visit file: its text, the way back and forth, and every change written to disk before it is answered. */
import { existsSync } from "node:fs";
import { hasError } from "../base/problem.js";
import { sha256 } from "../base/sha256.js";
import { writeWhole } from "../files/write.js";
import { readText } from "../visit/read.js";
import type { Desk } from "./desk.js";
import { CannotEdit, editText, writtenIn } from "./edit-yaml.js";
import { nameOf, visitPath } from "./folder.js";
import { givenOf } from "./given.js";
import { HttpError } from "./http-error.js";
import type { Edit, OnDisk, Written } from "./messages.js";
import { isSigned } from "./signed.js";
import type { Session } from "./states.js";

export { isSigned } from "./signed.js";
export type { Session } from "./states.js";

const MOST_STEPS = 300;
const GONE = "The file was moved or deleted.";
/** Typing in one place within this time is one step back. */
const ONE_STROKE_MS = 1500;

/** The file is no longer the text that an edit was made on. */
export class Changed extends Error {}

export function hashOf(text: string): string {
  return sha256(text).slice(0, 32);
}

export class Sessions {
  private readonly open = new Map<string, Session>();

  constructor(private readonly desk: Desk) {}

  /** The session of a file as it is on disk now; another program's change becomes a step that can be undone. */
  take(name: string): Session {
    const path = visitPath(this.desk.folder, name);
    const text = this.onDisk(path);
    const known = this.open.get(path);
    if (!known) {
      const file = nameOf(this.desk.folder, path);
      const fresh: Session = { file, path, text, undo: [], redo: [], lastPlace: "", lastAt: 0 };
      this.open.set(path, fresh);
      return fresh;
    }
    if (known.text !== text) this.step(known, text, "");
    return known;
  }

  /** What stands in the file now; the session stays as it is. */
  peek(name: string): OnDisk {
    const text = this.onDisk(visitPath(this.desk.folder, name));
    return { hash: hashOf(text), written: writtenIn(text) };
  }

  /** Makes edits on the text that `base` names; throws Changed when that is no longer the file's text. */
  edit(name: string, base: string, edits: readonly Edit[]): Session {
    const session = this.known(name);
    this.sameText(session, this.onDisk(session.path), base);
    if (isSigned(session.text))
      throw new HttpError(409, "The visit is signed. Reopen it as a draft to change it.");
    const place = edits.length === 1 ? JSON.stringify([edits[0]?.do, edits[0]?.path]) : "";
    this.save(session, this.edited(session.text, edits), place);
    return session;
  }

  undo(name: string, base: string): Session {
    return this.walk(name, base, "undo");
  }

  redo(name: string, base: string): Session {
    return this.walk(name, base, "redo");
  }

  /** Signs or reopens, whatever the status was. */
  setStatus(name: string, base: string, edits: readonly Edit[]): Session {
    const session = this.at(name, base);
    this.save(session, this.edited(session.text, edits), "");
    return session;
  }

  /** Its file is another now, or none: what comes to stand at its place is no step of it. */
  forget({ path }: Session): void {
    this.open.delete(path);
  }

  /** The session as the page last saw it, without a look at the disk; opened when it is not. */
  shown(name: string): Session {
    const session = this.known(name);
    if (!session.weighed) throw new HttpError(404, "There is no such document yet.");
    return session;
  }

  /** The session of a file that is still the text that `base` names. */
  at(name: string, base: string): Session {
    const session = this.known(name);
    this.sameText(session, this.onDisk(session.path), base);
    return session;
  }

  /** Writes a file again that was moved or deleted: its last text, or, after a new start, what the page still knows of it. */
  restore(name: string, written: { readonly [key: string]: Written } | null): Session {
    const path = visitPath(this.desk.folder, name);
    if (existsSync(path)) return this.take(name);
    const known = this.open.get(path);
    const edits = Object.entries(written ?? {}).flatMap(([key, value]): Edit[] => {
      const given = givenOf(value);
      return given === undefined ? [] : [{ do: "set", path: [key], value: given }];
    });
    if (!known && edits.length === 0) throw new HttpError(410, GONE);
    writeWhole(path, known ? known.text : this.edited("", edits));
    return this.take(name);
  }

  private walk(name: string, base: string, way: "undo" | "redo"): Session {
    const session = this.known(name);
    this.sameText(session, this.onDisk(session.path), base);
    const text = session[way].at(-1);
    if (text === undefined) return session;
    if (isSigned(session.text) && !isSigned(text))
      throw new HttpError(409, "The visit is signed. Reopen it as a draft to change it.");
    writeWhole(session.path, text);
    session[way].pop();
    session[way === "undo" ? "redo" : "undo"].push(session.text);
    session.text = text;
    session.lastPlace = "";
    return session;
  }

  private known(name: string): Session {
    return this.open.get(visitPath(this.desk.folder, name)) ?? this.take(name);
  }

  private onDisk(path: string): string {
    if (!existsSync(path)) throw new HttpError(410, GONE);
    const { value, problems } = readText(path);
    if (value === undefined || hasError(problems))
      throw new HttpError(404, problems[0]?.message ?? "No such visit.");
    return value;
  }

  private edited(text: string, edits: readonly Edit[]): string {
    try {
      return editText(text, edits, this.desk.schema);
    } catch (error) {
      if (error instanceof CannotEdit) throw new HttpError(422, error.message);
      throw error;
    }
  }

  private sameText(session: Session, disk: string, base: string): void {
    if (hashOf(disk) === base) {
      if (session.text !== disk) this.step(session, disk, "");
      return;
    }
    throw new Changed("the file changed underneath");
  }

  private save(session: Session, text: string, place: string): void {
    if (text === session.text) return;
    writeWhole(session.path, text);
    this.step(session, text, place);
  }

  private step(session: Session, text: string, place: string): void {
    const now = Date.now();
    const goesOn = place !== "" && place === session.lastPlace && now - session.lastAt < ONE_STROKE_MS;
    if (!goesOn) session.undo.push(session.text);
    if (session.undo.length > MOST_STEPS) session.undo.shift();
    session.redo.length = 0;
    session.text = text;
    session.lastPlace = place;
    session.lastAt = now;
  }
}
