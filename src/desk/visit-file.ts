/**
 * The file of a visit: another name for it, or put aside, out of sight of every command, and taken back. Nothing is deleted. A signed
 * visit, and one whose documents the register knows, stays where it is: what was given out stays with its visit.
 */
import { existsSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { yamlBelow } from "../clinic-folder/find.js";
import { scanVisit } from "../clinic-folder/scan.js";
import { moveTo } from "../files/move.js";
import { codeOf, NotWritten } from "../files/not-written.js";
import { liesInside, safeName } from "../files/write.js";
import type { Desk } from "./desk.js";
import { writtenIn } from "./edit-yaml.js";
import { nameOf, visitPath } from "./folder.js";
import { HttpError } from "./http-error.js";
import { ownerIn } from "./letters.js";
import type { VisitAside } from "./list-messages.js";
import { renameInRecord } from "./made.js";
import { isSigned, type Session } from "./session.js";

/** Each file lies there below a number, under the path that it had: a second of the same path below another. */
const asideOf = (folder: string): string => join(folder, ".whorl", "put-aside");

/** Gives the file another name in its folder, and returns it as the page names it. */
export function renameVisit(session: Session, desk: Desk, name: string): string {
  mayMove(session, desk);
  const wanted = /\.ya?ml$/iu.test(name) ? name : `${name}.yaml`;
  if (safeName(wanted) !== wanted)
    throw new HttpError(422, `A name has letters, figures, points and hyphens alone: ${safeName(wanted)}`);
  const to = visitPath(desk.folder, nameOf(desk.folder, join(dirname(session.path), wanted)));
  move(session.path, to);
  renameInRecord(session.path, basename(to));
  return nameOf(desk.folder, to);
}

/** Moves the file where no command looks for visits. Photos, marks and documents beside it stay. */
export function putAside(session: Session, desk: Desk): void {
  mayMove(session, desk);
  let to = "";
  for (let n = 1; to === "" || existsSync(to); n++) to = join(asideOf(desk.folder), String(n), session.file);
  if (!liesInside(desk.folder, to)) throw new HttpError(409, "The folder .whorl is a symbolic link.");
  move(session.path, to);
}

export function visitsAside(desk: Desk): VisitAside[] {
  const aside = asideOf(desk.folder);
  if (!existsSync(aside)) return [];
  return yamlBelow(aside).files.map((file) => {
    const { identity } = scanVisit(file);
    const lies = nameOf(aside, file);
    return {
      lies,
      file: lies.replace(/^\d+\//u, ""),
      patient: [identity?.given, identity?.family].filter(Boolean).join(" "),
      date: identity?.date ?? "",
    };
  });
}

/** Moves a file back to where it was, and returns its name. */
export function takeBack(desk: Desk, lies: string): string {
  const name = /^\d+\/(.+)$/u.exec(lies)?.[1];
  const to = visitPath(desk.folder, name);
  const from = join(asideOf(desk.folder), lies);
  if (!liesInside(desk.folder, from) || !existsSync(from)) throw new HttpError(410, "It is not put aside.");
  move(from, to);
  return nameOf(desk.folder, to);
}

function mayMove({ text, path }: Session, desk: Desk): void {
  if (isSigned(text)) throw new HttpError(409, "A signed visit stays where it is.");
  const visit = ownerIn(writtenIn(text))?.visit;
  if (visit !== undefined && desk.registers.linesFor(path, visit).length > 0)
    throw new HttpError(409, "The register knows this visit: it stays where it is.");
}

function move(from: string, to: string): void {
  try {
    moveTo(from, to);
  } catch (error) {
    if (error instanceof NotWritten && error.code === "EEXIST")
      throw new HttpError(409, `There is a file ${basename(to)} already.`);
    if (codeOf(error) === "ENOENT") throw new HttpError(410, "The file was moved or deleted.");
    throw error;
  }
}
