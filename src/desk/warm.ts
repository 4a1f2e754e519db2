/** What the first page and the first visit need, worked out while the browser is still being opened. */
import { setImmediate } from "node:timers/promises";
import { readText } from "../visit/read.js";
import type { Desk } from "./desk.js";
import { deskWords } from "./desk-words.js";
import { visitPath } from "./folder.js";
import type { Session } from "./states.js";
import { printedSheet, say } from "./weighed.js";

/** Looks through the folder, then weighs and sets the letter of its newest visit, so that who is who, templates and typefaces are at hand. */
export async function warm(desk: Desk): Promise<void> {
  await desk.list.look();
  const [newest] = desk.list.find({ find: "", most: 1 }).visits;
  deskWords(desk);
  if (!newest) return;
  const path = visitPath(desk.folder, newest.file);
  const text = readText(path).value;
  if (text === undefined) return;
  await setImmediate();
  const session: Session = { file: newest.file, path, text, undo: [], redo: [], lastPlace: "", lastAt: 0 };
  say(session, desk, { pane: "letter" }, true);
  await setImmediate();
  await printedSheet(session, desk, { pane: "letter" });
}
