/** What the first page and the first visit need, worked out between requests: a piece at a time, each once nobody has asked for a while. */
import { setImmediate } from "node:timers/promises";
import { readText } from "../visit/read.js";
import type { Desk } from "./desk.js";
import { deskWords } from "./desk-words.js";
import { visitPath } from "./folder.js";
import type { Session } from "./states.js";
import { printedSheet, say } from "./weighed.js";

const QUIET_MS = 250;
/** A browser takes its time to start; where none comes, nobody waits. */
const NOBODY_MS = 10_000;

/** Looks through the folder, then weighs and sets the letter of its newest visit, so that who is who, templates and typefaces are at hand. */
export async function warm(desk: Desk): Promise<void> {
  if (desk.list.isKnown()) deskWords(desk);
  // The first list stands on the page before anything longer begins.
  await desk.quiet.page(NOBODY_MS);
  await desk.quiet.wait(QUIET_MS);
  await desk.list.look();
  const [newest] = desk.list.find({ find: "", most: 1 }).visits;
  deskWords(desk);
  if (!newest) return;
  const path = visitPath(desk.folder, newest.file);
  const text = readText(path).value;
  if (text === undefined) return;
  const session: Session = { file: newest.file, path, text, undo: [], redo: [], lastPlace: "", lastAt: 0 };
  const pieces = [
    () => desk.folderLook.seen?.people.problems(path),
    () => say(session, desk, { pane: "letter" }, "weighed"),
    () => printedSheet(session, desk, { pane: "letter" }),
  ];
  for (const piece of pieces) {
    await setImmediate();
    await desk.quiet.wait(QUIET_MS);
    await piece();
  }
}
