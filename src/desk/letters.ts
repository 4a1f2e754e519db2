/** Documents made from a visit: written beside it in `letters/`, listed, and read back for the browser. */
import { lstatSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { hasError, type Problem } from "../base/problem.js";
import { makeDocuments } from "../batch/make.js";
import { isOrdinaryFile } from "../clinic-folder/find.js";
import { liesInside, safeName, writeWhole } from "../files/write.js";
import type { Desk } from "./desk.js";
import type { MadeFile } from "./messages.js";
import { Refused } from "./refused.js";
import { weighText } from "./weighed.js";

const DOCUMENTS = ["referral-letter", "handout"] as const;

const folderOf = (path: string): string => join(dirname(path), "letters");

/** PDF files of a visit, sorted; `current` tells whether they are as new as the visit file. */
export function madeOf(path: string, visitId: string): MadeFile[] {
  const folder = folderOf(path);
  if (visitId === "" || lstatSync(folder, { throwIfNoEntry: false })?.isDirectory() !== true) return [];
  const written = lstatSync(path).mtimeMs;
  return readdirSync(folder)
    .sort()
    .flatMap((name) => {
      const kind = DOCUMENTS.find((document) => name.startsWith(`${safeName(visitId, document)}`));
      const stat = lstatSync(join(folder, name));
      return kind && name.endsWith(".pdf") && stat.isFile()
        ? [{ name, kind, current: stat.mtimeMs >= written }]
        : [];
    });
}

/** Makes letter and handout of a visit as it stands; throws Refused with the problems when nothing can be made. */
export async function makeLetters(desk: Desk, path: string, text: string): Promise<void> {
  const { weighed, problems } = weighText(text, path, desk);
  const { clinic } = desk.clinicOf(path);
  if (!weighed || !clinic || hasError(problems)) throw cannotBeMade(problems);
  const result = await makeDocuments(weighed.examined, {
    knowledge: desk.knowledge,
    clinic,
    documents: DOCUMENTS,
    format: "pdf",
    ...(weighed.change ? { overrides: { change: weighed.change } } : {}),
  });
  if (result.made.length === 0 || hasError(result.problems)) throw cannotBeMade(result.problems);
  const folder = folderOf(path);
  if (!liesInside(desk.folder, folder)) throw new Refused(409, "The letters folder is a symbolic link.");
  for (const { name, bytes } of result.made) writeWhole(join(folder, name), bytes);
}

const cannotBeMade = (problems: readonly Problem[]) =>
  new Refused(422, "The documents cannot be made while there are errors.", problems);

/** The bytes of a document that was made of the visit. */
export function readLetter(desk: Desk, path: string, visitId: string, name: string): Uint8Array {
  const file = join(folderOf(path), name);
  if (
    !madeOf(path, visitId).some((made) => made.name === name) ||
    !isOrdinaryFile(file) ||
    !liesInside(desk.folder, file)
  )
    throw new Refused(404, "No such document.");
  return readFileSync(file);
}
